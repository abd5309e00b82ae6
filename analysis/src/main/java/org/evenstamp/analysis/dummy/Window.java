package org.evenstamp.analysis.dummy;

/**
 * Averages of a map over windows: a matrix K with non-negative weights of row sum 1 and column sum at most 1, so that its norm
 * is at most 1 and an even map stays even.
 */
public interface Window {
    /** Returns the number of tiles. */
    int tiles();

    /** Returns the number of windows. */
    int windows();

    /** Writes the average over each window, {@code averages = K amounts}. The arrays differ. */
    void average(double[] amounts, double[] averages);

    /** Spreads each window's weight over its tiles, {@code amounts = Kᵀ weights}. The arrays differ. */
    void spread(double[] weights, double[] amounts);

    /**
     * Writes {@code Kᵀ(Ka - mean(Ka))}: how the variance of the averages changes with the amounts.
     *
     * @param scratch length {@link #windows()}
     */
    default void slope(double[] amounts, double[] slope, double[] scratch) {
        average(amounts, scratch);
        double mean = 0;
        for (double value : scratch) {
            mean += value;
        }
        mean /= scratch.length;
        for (int i = 0; i < scratch.length; i++) {
            scratch[i] -= mean;
        }
        spread(scratch, slope);
    }
}
