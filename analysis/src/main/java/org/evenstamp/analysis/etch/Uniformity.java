package org.evenstamp.analysis.etch;

/**
 * Measures of evenness of a residual layer. They differ, so each has its name. Common fab practice, no single source.
 *
 * @param least smallest value, m
 * @param most largest value, m
 * @param mean mean, m
 * @param sigma standard deviation of the population, m
 */
public record Uniformity(double least, double most, double mean, double sigma) {
    /**
     * Measures values.
     *
     * @param values at least one
     */
    public static Uniformity of(double[] values) {
        if (values.length == 0) {
            throw new IllegalArgumentException("no values");
        }
        double least = values[0];
        double most = values[0];
        double sum = 0;
        for (double value : values) {
            least = Math.min(least, value);
            most = Math.max(most, value);
            sum += value;
        }
        double mean = sum / values.length;
        double squares = 0;
        for (double value : values) {
            squares += (value - mean) * (value - mean);
        }
        return new Uniformity(least, most, mean, Math.sqrt(squares / values.length));
    }

    /** Returns {@code U1 = (max - min)/(2 mean)}; 0 where the mean is. */
    public double halfRangeOverMean() {
        return share(spread(), 2 * mean);
    }

    /** Returns {@code U2 = (max - min)/(max + min)}. */
    public double rangeOverSum() {
        return share(spread(), most + least);
    }

    /** Returns {@code U3 = 3 sigma/mean}. */
    public double threeSigmaOverMean() {
        return share(3 * sigma, mean);
    }

    /** Returns {@code max/mean - 1}: the part of the time to clear the mean that must be added to clear the thickest. */
    public double overEtch() {
        return mean > 0 ? most / mean - 1 : 0;
    }

    /** Returns {@code max - min}, m: what the thinnest place loses from its features while the thickest clears. */
    public double spread() {
        return most - least;
    }

    private static double share(double part, double whole) {
        return whole > 0 ? part / whole : 0;
    }
}
