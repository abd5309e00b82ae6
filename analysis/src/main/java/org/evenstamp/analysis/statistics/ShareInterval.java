package org.evenstamp.analysis.statistics;

import org.apache.commons.math3.distribution.BetaDistribution;

/**
 * What a count of samples says of a chance.
 *
 * @param share how many of the samples
 * @param least lower end of the interval
 * @param most upper end
 */
public record ShareInterval(double share, double least, double most) {
    /**
     * Returns the exact interval, which holds the true chance at least as often as asked for.
     *
     * <p>Source: C.J. Clopper, E.S. Pearson, Biometrika 26 (1934) 404 (from memory), by quantiles of the beta distribution.
     *
     * @param hits samples that count, 0 to {@code samples}
     * @param samples all samples, at least 1, independent
     * @param confidence in (0, 1), such as 0.95
     */
    public static ShareInterval exact(int hits, int samples, double confidence) {
        if (samples < 1 || hits < 0 || hits > samples) {
            throw new IllegalArgumentException(hits + " of " + samples + " samples is no share");
        }
        double tail = (1 - confidence) / 2;
        double least = hits == 0 ? 0 : beta(hits, samples - hits + 1).inverseCumulativeProbability(tail);
        double most = hits == samples ? 1 : beta(hits + 1, samples - hits).inverseCumulativeProbability(1 - tail);
        return new ShareInterval((double) hits / samples, least, most);
    }

    private static BetaDistribution beta(double alpha, double beta) {
        return new BetaDistribution(null, alpha, beta, 1e-12);
    }
}
