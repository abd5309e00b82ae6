package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.exception.MathIllegalArgumentException;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.evenstamp.analysis.statistics.ShareInterval;
import org.evenstamp.analysis.statistics.SobolIndices;
import org.evenstamp.shared.finding.Limit;

/**
 * What the points of a sweep mean together. The same points in any order give the same numbers.
 *
 * @param points all points of the plan that are there, by number
 * @param failed how many of them could not be computed
 * @param broken chance that a limit is exceeded, with its 95 % interval; nothing where no point finished, or there are no limits
 * @param limits what becomes of each limit
 */
public record SweepSummary(List<SweepPoint> points, int failed, Optional<ShareInterval> broken, List<OneLimit> limits) {
    private static final double CONFIDENCE = 0.95;
    private static final long RESAMPLING_SEED = 1;

    /** Copies the lists. */
    public SweepSummary {
        points = List.copyOf(points);
        limits = List.copyOf(limits);
    }

    /**
     * One limit over all points.
     *
     * @param limit the limit
     * @param broken chance that it is exceeded
     * @param low 5 % quantile of what it looks at, SI
     * @param median the median
     * @param high 95 % quantile
     * @param weights how much each axis matters for it: the change over one standard deviation of the axis, over the deviation of
     *     the limit's number, by a straight line through all points; nothing where there are too few points or none fits
     * @param indices Sobol indices, where the sweep was designed for them and all its points finished
     */
    public record OneLimit(
            Limit limit,
            ShareInterval broken,
            double low,
            double median,
            double high,
            Optional<List<Double>> weights,
            Optional<SobolIndices> indices) {}

    /**
     * Sums up.
     *
     * @param kept what the store holds, of which the plan's own points count
     */
    public static SweepSummary of(SweepPlan plan, List<SweepPoint> kept) {
        List<SweepPoint> points =
                kept.stream().filter(point -> point.index() < plan.size()).toList();
        List<SweepPoint> finished = points.stream().filter(SweepPoint::finished).toList();
        // Only A and B of every sample are drawn from what is known; the mixed points are the same values over again.
        List<SweepPoint> drawn = plan.design() == SweepPlan.Design.INDICES
                ? finished.stream()
                        .filter(point -> point.index() % (plan.axes().size() + 2) < 2)
                        .toList()
                : finished;
        List<Limit> limits = plan.job().limits();
        Optional<ShareInterval> broken = drawn.isEmpty() || limits.isEmpty()
                ? Optional.empty()
                : Optional.of(ShareInterval.exact(
                        (int) drawn.stream()
                                .filter(point -> !point.withinLimits())
                                .count(),
                        drawn.size(),
                        CONFIDENCE));
        List<OneLimit> each = new ArrayList<>();
        for (int i = 0; i < limits.size(); i++) {
            int at = i;
            List<SweepPoint> known = drawn.stream()
                    .filter(point -> point.limits().get(at).isPresent())
                    .toList();
            if (!known.isEmpty()) {
                each.add(one(plan, limits.get(i), i, known, finished));
            }
        }
        return new SweepSummary(points, points.size() - finished.size(), broken, each);
    }

    private static OneLimit one(
            SweepPlan plan, Limit limit, int at, List<SweepPoint> known, List<SweepPoint> finished) {
        double[] found = known.stream()
                .mapToDouble(point -> point.limits().get(at).getAsDouble())
                .toArray();
        int out = (int) known.stream()
                .filter(point -> point.margins().get(at).getAsDouble() < 0)
                .count();
        double[] sorted = found.clone();
        Arrays.sort(sorted);
        return new OneLimit(
                limit,
                ShareInterval.exact(out, known.size(), CONFIDENCE),
                Quantiles.of(sorted, 0.05),
                Quantiles.of(sorted, 0.5),
                Quantiles.of(sorted, 0.95),
                weights(plan, known, found),
                indices(plan, at, finished));
    }

    /** Standardised slopes of a straight line through the scores of the axes; a grid's are those of its level numbers. */
    private static Optional<List<Double>> weights(SweepPlan plan, List<SweepPoint> points, double[] found) {
        int axes = plan.axes().size();
        int n = found.length;
        if (n < axes + 2 || plan.design() == SweepPlan.Design.INDICES) {
            return Optional.empty();
        }
        double[][] scores = new double[n][];
        for (int i = 0; i < n; i++) {
            scores[i] = scores(plan, points.get(i).index());
        }
        double[] deviations = new double[axes];
        for (int k = 0; k < axes; k++) {
            int axis = k;
            deviations[k] = deviation(
                    Arrays.stream(scores).mapToDouble(row -> row[axis]).toArray());
        }
        double spread = deviation(found);
        if (!(spread > 0) || Arrays.stream(deviations).anyMatch(one -> !(one > 0))) {
            return Optional.empty();
        }
        try {
            OLSMultipleLinearRegression line = new OLSMultipleLinearRegression();
            line.newSampleData(found, scores);
            double[] slopes = line.estimateRegressionParameters();
            List<Double> weights = new ArrayList<>();
            for (int k = 0; k < axes; k++) {
                weights.add(slopes[k + 1] * deviations[k] / spread);
            }
            return Optional.of(weights);
        } catch (MathIllegalArgumentException e) {
            return Optional.empty();
        }
    }

    private static double[] scores(SweepPlan plan, int index) {
        return plan.design() == SweepPlan.Design.GRID
                ? Arrays.stream(plan.levels(index)).asDoubleStream().toArray()
                : plan.point(index);
    }

    private static double deviation(double[] values) {
        double mean = Arrays.stream(values).average().orElse(0);
        return Math.sqrt(Arrays.stream(values)
                .map(value -> (value - mean) * (value - mean))
                .average()
                .orElse(0));
    }

    private static Optional<SobolIndices> indices(SweepPlan plan, int at, List<SweepPoint> finished) {
        if (plan.design() != SweepPlan.Design.INDICES || finished.size() < plan.size() || plan.samples() < 2) {
            return Optional.empty();
        }
        int axes = plan.axes().size();
        double[][] parts = new double[axes + 2][plan.samples()];
        for (SweepPoint point : finished) {
            OptionalDouble found = point.limits().get(at);
            if (found.isEmpty()) {
                return Optional.empty();
            }
            parts[point.index() % (axes + 2)][point.index() / (axes + 2)] = found.getAsDouble();
        }
        double[] a = parts[0];
        if (Arrays.stream(parts).flatMapToDouble(Arrays::stream).allMatch(value -> value == a[0])) {
            return Optional.empty(); // nothing to explain
        }
        return Optional.of(SobolIndices.of(a, parts[1], Arrays.copyOfRange(parts, 2, parts.length), RESAMPLING_SEED));
    }
}
