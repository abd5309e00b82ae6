package org.evenstamp.analysis.numeric;

/** The Cholesky factor of a small dense symmetric positive definite matrix, row after row. */
public final class SmallCholesky {
    private final int size;
    private final double[] lower;

    /**
     * Factorises.
     *
     * @param matrix all entries, row after row; a pivot that rounding makes zero is treated as a missing equation
     * @param size number of rows
     */
    public SmallCholesky(double[] matrix, int size) {
        this.size = size;
        lower = matrix.clone();
        for (int j = 0; j < size; j++) {
            double pivot = lower[j * size + j];
            double least = 1e-14 * Math.abs(pivot);
            for (int k = 0; k < j; k++) {
                pivot -= lower[j * size + k] * lower[j * size + k];
            }
            double root = pivot > least ? Math.sqrt(pivot) : Double.POSITIVE_INFINITY;
            lower[j * size + j] = root;
            for (int i = j + 1; i < size; i++) {
                double sum = lower[i * size + j];
                for (int k = 0; k < j; k++) {
                    sum -= lower[i * size + k] * lower[j * size + k];
                }
                lower[i * size + j] = sum / root;
            }
        }
    }

    /** Overwrites the right side with the solution. */
    public void solve(double[] x) {
        for (int i = 0; i < size; i++) {
            double sum = x[i];
            for (int k = 0; k < i; k++) {
                sum -= lower[i * size + k] * x[k];
            }
            x[i] = sum / lower[i * size + i];
        }
        for (int i = size - 1; i >= 0; i--) {
            double sum = x[i];
            for (int k = i + 1; k < size; k++) {
                sum -= lower[k * size + i] * x[k];
            }
            x[i] = sum / lower[i * size + i];
        }
    }
}
