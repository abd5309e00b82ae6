package org.evenstamp.engine.calibrate;

import org.evenstamp.analysis.statistics.Distribution;
import org.evenstamp.analysis.statistics.LeastSquaresFit;
import org.evenstamp.shared.unit.Unit;

/**
 * A key of the job that a fit may change.
 *
 * <p>A key known to a factor is fitted by its logarithm, so that it stays positive and its error is a factor too.
 *
 * @param key the key
 * @param startSi value to begin with, SI; the job's own
 * @param logarithmic whether its logarithm is fitted
 * @param prior deviation of what is known beforehand, of the logarithm or in SI; infinite when nothing is known
 * @param leastSi the fit stays above it
 * @param mostSi and below it
 * @param unit the unit in which it is shown
 */
public record FreeKey(
        String key, double startSi, boolean logarithmic, double prior, double leastSi, double mostSi, Unit unit) {
    /** Change over which slopes are taken, of the logarithm or over the value: large against what time steps make of a run. */
    private static final double STEP = 0.1;

    /** Returns the prior of a key known to a factor: 95 % lie between the value over the factor and the value times it. */
    static double prior(double factor) {
        return Math.log(factor) / Distribution.StandardNormal.TWO_SIDED_95;
    }

    /** Returns the number that is fitted for a value in SI. */
    double fitted(double si) {
        return logarithmic ? Math.log(si) : si;
    }

    /** Returns the value in SI of a number that is fitted. */
    double si(double fitted) {
        return logarithmic ? Math.exp(fitted) : fitted;
    }

    /** Returns the step of the number over which a slope is taken. */
    double step() {
        if (logarithmic) {
            return STEP;
        }
        double size = Math.abs(startSi);
        return Double.isInfinite(prior) ? STEP * (size > 0 ? size : 1) : Math.max(0.3 * prior, 1e-6 * size);
    }

    LeastSquaresFit.Free free() {
        return new LeastSquaresFit.Free(
                key,
                fitted(startSi),
                logarithmic && !(leastSi > 0) ? Double.NEGATIVE_INFINITY : fitted(leastSi),
                fitted(mostSi),
                prior);
    }
}
