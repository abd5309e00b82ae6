package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.apache.commons.math3.exception.MathIllegalArgumentException;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.evenstamp.analysis.statistics.ShareInterval;
import org.evenstamp.analysis.statistics.SobolIndices;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.SweepChoice;
import org.evenstamp.shared.finding.Limit;

/**
 * What the points of a sweep mean together. The same points in any order give the same numbers.
 *
 * @param points all points of the plan that are there, by number
 * @param failed how many of them could not be computed
 * @param broken chance that a limit is exceeded, with its 95 % interval; nothing where no point finished, or there are no limits
 * @param limits what becomes of each limit
 * @param demands what the job asks of the chances
 * @param convergence the chance that a limit is exceeded after the first 16, 32, 64, ... points, and after all
 */
public record SweepSummary(
        List<SweepPoint> points,
        int failed,
        Optional<ShareInterval> broken,
        List<OneLimit> limits,
        List<Demand> demands,
        List<Known> convergence) {
    private static final double CONFIDENCE = 0.95;
    private static final long RESAMPLING_SEED = 1;

    /** Copies the lists. */
    public SweepSummary {
        points = List.copyOf(points);
        limits = List.copyOf(limits);
        demands = List.copyOf(demands);
        convergence = List.copyOf(convergence);
    }

    /**
     * A chance that may not be larger.
     *
     * @param limit the limit that it is about; nothing for all of them together, but those with a demand of their own where
     *     {@code sweep.chance} sets none. Of a grid without it, that not every run is out
     * @param allowed the largest share that is allowed
     * @param found the share found
     */
    public record Demand(Optional<Limit> limit, double allowed, ShareInterval found) {
        /** Returns whether the share found is allowed. */
        public boolean holds() {
            return found.share() <= allowed;
        }

        /** Returns whether the interval lies on one side of what is allowed; nothing allowed at all is never sure to hold. */
        public boolean decided() {
            return found.most() <= allowed || found.least() > allowed;
        }
    }

    /**
     * What was known after some points.
     *
     * @param points how many
     * @param broken chance that a limit is exceeded, with its interval
     */
    public record Known(int points, ShareInterval broken) {}

    /** Returns whether every demand holds, and runs ended of which that could be said. */
    public boolean holds() {
        return demands.stream().allMatch(Demand::holds) && (points.isEmpty() || failed < points.size());
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
        Optional<ShareInterval> broken =
                drawn.isEmpty() || limits.isEmpty() ? Optional.empty() : Optional.of(broken(drawn));
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
        return new SweepSummary(
                points,
                points.size() - finished.size(),
                broken,
                each,
                broken.isEmpty() ? List.of() : demands(plan, drawn, each, broken.get()),
                broken.isEmpty() || plan.design() == SweepPlan.Design.GRID ? List.of() : convergence(drawn));
    }

    private static ShareInterval broken(List<SweepPoint> points) {
        return ShareInterval.exact(
                (int) points.stream().filter(point -> !point.withinLimits()).count(), points.size(), CONFIDENCE);
    }

    private static List<Demand> demands(
            SweepPlan plan, List<SweepPoint> drawn, List<OneLimit> each, ShareInterval broken) {
        Job job = plan.job();
        List<Demand> demands = new ArrayList<>();
        for (OneLimit one : each) {
            job.allowedChance(one.limit())
                    .ifPresent(allowed -> demands.add(new Demand(Optional.of(one.limit()), allowed, one.broken())));
        }
        OptionalDouble allowed = job.settings().find(SweepChoice.CHANCE.id());
        List<Integer> strict = IntStream.range(0, job.limits().size())
                .filter(i -> job.allowedChance(job.limits().get(i)).isEmpty())
                .boxed()
                .toList();
        if (allowed.isPresent()) {
            demands.add(new Demand(Optional.empty(), allowed.getAsDouble(), broken));
        } else if (plan.design() == SweepPlan.Design.GRID) {
            // A grid goes where limits break; what it must find is a place where they all hold.
            demands.add(new Demand(Optional.empty(), Math.nextDown(1.0), broken));
        } else if (!strict.isEmpty()) {
            int out = (int) drawn.stream()
                    .filter(point ->
                            strict.stream().anyMatch(i -> point.margins().get(i).orElse(0) < 0))
                    .count();
            demands.add(new Demand(Optional.empty(), 0, ShareInterval.exact(out, drawn.size(), CONFIDENCE)));
        }
        return demands;
    }

    private static List<Known> convergence(List<SweepPoint> drawn) {
        List<Known> known = new ArrayList<>();
        for (int n = 16; n < drawn.size(); n *= 2) {
            known.add(new Known(n, broken(drawn.subList(0, n))));
        }
        known.add(new Known(drawn.size(), broken(drawn)));
        return known;
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
