package org.evenstamp.analysis.statistics;

import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * What is known of a number that is not known exactly. A distribution answers with its quantile function alone, so that any
 * even filling of (0, 1) becomes a sample of it.
 */
public sealed interface Distribution {
    /**
     * Returns the value below which a share of the distribution lies.
     *
     * @param share in the open interval (0, 1)
     */
    double quantile(double share);

    /**
     * The bell curve.
     *
     * @param mean its centre
     * @param deviation standard deviation, above 0
     */
    record Normal(double mean, double deviation) implements Distribution {
        /** Refuses a deviation that is not positive. */
        public Normal {
            requireFinite(mean, "mean");
            requirePositive(deviation, "standard deviation");
        }

        @Override
        public double quantile(double share) {
            return mean + deviation * StandardNormal.quantile(share);
        }
    }

    /**
     * A positive number known to a factor: the logarithm is normal, and 95 % of the distribution lie between {@code
     * median/factor} and {@code median x factor}.
     *
     * @param median above 0
     * @param factor above 1
     */
    record LogNormal(double median, double factor) implements Distribution {
        /** Refuses a median that is not positive and a factor that is not above 1. */
        public LogNormal {
            requirePositive(median, "median");
            if (!(factor > 1) || Double.isInfinite(factor)) {
                throw new IllegalArgumentException("the factor must be above 1, is " + factor);
            }
        }

        @Override
        public double quantile(double share) {
            return median * Math.exp(Math.log(factor) / StandardNormal.TWO_SIDED_95 * StandardNormal.quantile(share));
        }
    }

    /**
     * Every value between two equally likely.
     *
     * @param least lower end
     * @param most upper end, above the lower
     */
    record Uniform(double least, double most) implements Distribution {
        /** Refuses an empty or reversed range. */
        public Uniform {
            requireRange(least, most);
        }

        @Override
        public double quantile(double share) {
            return least + (most - least) * share;
        }
    }

    /**
     * Every factor between two positive values equally likely: the logarithm is uniform.
     *
     * @param least lower end, above 0
     * @param most upper end, above the lower
     */
    record LogUniform(double least, double most) implements Distribution {
        /** Refuses an empty or reversed range, and one that is not positive. */
        public LogUniform {
            requirePositive(least, "lower end");
            requireRange(least, most);
        }

        @Override
        public double quantile(double share) {
            return least * Math.pow(most / least, share);
        }
    }

    /**
     * A triangle over a range.
     *
     * @param least lower end
     * @param mode most likely value, within the range
     * @param most upper end
     */
    record Triangular(double least, double mode, double most) implements Distribution {
        /** Refuses an empty range and a mode outside it. */
        public Triangular {
            requireRange(least, most);
            if (!(mode >= least && mode <= most)) {
                throw new IllegalArgumentException(
                        "the most likely value " + mode + " is outside " + least + " to " + most);
            }
        }

        @Override
        public double quantile(double share) {
            double range = most - least;
            double below = (mode - least) / range;
            return share <= below
                    ? least + Math.sqrt(share * range * (mode - least))
                    : most - Math.sqrt((1 - share) * range * (most - mode));
        }
    }

    /**
     * A few values, equally likely; for kinds that have no size, such as files, their numbers.
     *
     * @param count how many, at least 1; the values are 0 to {@code count - 1}
     */
    record Discrete(int count) implements Distribution {
        /** Refuses a choice of nothing. */
        public Discrete {
            if (count < 1) {
                throw new IllegalArgumentException("a choice needs at least one value");
            }
        }

        @Override
        public double quantile(double share) {
            return Math.min(count - 1, (int) Math.floor(share * count));
        }
    }

    /** The normal distribution of mean 0 and deviation 1. */
    final class StandardNormal {
        /** 97.5 % quantile: 95 % lie between its negative and it. */
        public static final double TWO_SIDED_95 = 1.959963984540054;

        private static final NormalDistribution LAW = new NormalDistribution(null, 0, 1);

        private StandardNormal() {}

        /** Returns its quantile of a share in (0, 1). */
        public static double quantile(double share) {
            return LAW.inverseCumulativeProbability(share);
        }

        /** Returns the share below a value. */
        public static double share(double value) {
            return LAW.cumulativeProbability(value);
        }
    }

    private static void requireFinite(double value, String what) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("the " + what + " must be a number, is " + value);
        }
    }

    private static void requirePositive(double value, String what) {
        if (!(value > 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException("the " + what + " must be above 0, is " + value);
        }
    }

    private static void requireRange(double least, double most) {
        requireFinite(least, "lower end");
        requireFinite(most, "upper end");
        if (!(most > least)) {
            throw new IllegalArgumentException("the range " + least + " to " + most + " is empty or reversed");
        }
    }
}
