package org.evenstamp.engine.sweep;

/** Quantiles of a few values. */
final class Quantiles {
    private Quantiles() {}

    /**
     * Returns a quantile, straight between the two values around it: that of share {@code i/(n-1)} is value {@code i}.
     *
     * @param sorted values in ascending order, at least one
     * @param share from 0 to 1
     */
    static double of(double[] sorted, double share) {
        double at = share * (sorted.length - 1);
        int below = (int) Math.floor(at);
        int above = Math.min(below + 1, sorted.length - 1);
        return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
    }
}
