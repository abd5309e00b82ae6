package org.evenstamp.output.compare;

/**
 * How one field differs between two runs, over the tiles; the numbers are in the field's display unit.
 *
 * @param field id of the field
 * @param unit its display unit
 * @param tiles number of tiles with a value in both runs
 * @param beyond how many of them differ by more than is tolerated
 * @param onlyA number of tiles with a value in A alone
 * @param onlyB number of tiles with a value in B alone
 * @param largest largest absolute difference; 0 when no tile has both values
 * @param rms root of the mean square of the differences
 * @param meanShift mean of B less A
 * @param relative the largest difference over the largest magnitude of the field in either run; 0 when all values are 0
 * @param worst index of the tile with the largest difference, the first of them; -1 when there is none
 * @param a the value of A there
 * @param b the value of B there
 */
public record FieldDifference(
        String field,
        String unit,
        int tiles,
        int beyond,
        int onlyA,
        int onlyB,
        double largest,
        double rms,
        double meanShift,
        double relative,
        int worst,
        double a,
        double b) {
    /**
     * Compares.
     *
     * @param a values of A, {@link Double#NaN} where it has none
     * @param b values of B, of the same length
     */
    static FieldDifference of(String field, String unit, double[] a, double[] b, Tolerance.Allowance allowance) {
        int tiles = 0;
        int beyond = 0;
        int onlyA = 0;
        int onlyB = 0;
        double largest = 0;
        double magnitude = magnitude(a, b);
        int worst = -1;
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < a.length; i++) {
            boolean inA = !Double.isNaN(a[i]);
            boolean inB = !Double.isNaN(b[i]);
            if (inA && inB) {
                tiles++;
                double shift = b[i] - a[i];
                mean += (shift - mean) / tiles;
                squares += (shift * shift - squares) / tiles;
                if (Math.abs(shift) > largest) {
                    largest = Math.abs(shift);
                    worst = i;
                }
                if (!allowance.covers(a[i], b[i], magnitude)) {
                    beyond++;
                }
            } else if (inA) {
                onlyA++;
            } else if (inB) {
                onlyB++;
            }
        }
        return new FieldDifference(
                field,
                unit,
                tiles,
                beyond,
                onlyA,
                onlyB,
                largest,
                Math.sqrt(squares),
                mean,
                magnitude > 0 ? largest / magnitude : 0,
                worst,
                worst < 0 ? 0 : a[worst],
                worst < 0 ? 0 : b[worst]);
    }

    /** Returns the largest magnitude of the values in tiles where both have one. */
    private static double magnitude(double[] a, double[] b) {
        double magnitude = 0;
        for (int i = 0; i < a.length; i++) {
            if (!Double.isNaN(a[i]) && !Double.isNaN(b[i])) {
                magnitude = Math.max(magnitude, Math.max(Math.abs(a[i]), Math.abs(b[i])));
            }
        }
        return magnitude;
    }

    /** Returns whether every tile is the same within the tolerance. */
    public boolean same() {
        return beyond == 0 && onlyA == 0 && onlyB == 0;
    }
}
