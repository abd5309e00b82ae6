package org.evenstamp.engine.sweep;

import java.util.OptionalDouble;
import org.evenstamp.engine.job.SweepChoice;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Runs the points of a sweep that are not there yet. A point that cannot be computed is kept with its reason and ends nothing
 * else.
 */
public final class Sweep {
    /** Samples after which a sweep looks whether it knows enough. */
    private static final int BLOCK = 32;

    private Sweep() {}

    /**
     * Runs what is missing on threads of this process, several points at a time, each on one thread.
     *
     * @param threads how many points are computed at a time, at least 1; the answers do not depend on it
     * @return the plan of the points that count: the whole, or what was enough for {@code sweep.until}
     * @throws CancelledException soon after the progress was cancelled; the points that have ended are in the store
     */
    public static SweepPlan run(SweepPlan plan, SweepStore store, int threads, Progress progress) {
        try (PointThreads here = new PointThreads(plan, threads)) {
            return run(plan, store, here, progress);
        }
    }

    /**
     * Runs what is missing where somebody else says.
     *
     * @param runner computes points of the plan
     * @return the plan of the points that count: the whole, or what was enough for {@code sweep.until}
     * @throws CancelledException soon after the progress was cancelled; the points that have ended are in the store
     */
    public static SweepPlan run(SweepPlan plan, SweepStore store, PointRunner runner, Progress progress) {
        OptionalDouble until = plan.job().settings().find(SweepChoice.UNTIL.id());
        SweepPlan ran = plan;
        try (Stage stage = progress.stage("sweep", plan.size(), "points")) {
            if (until.isEmpty() || plan.design() != SweepPlan.Design.SOBOL) {
                runner.run(0, plan.size(), store, stage, progress);
            } else {
                int end = 0;
                do {
                    int from = end;
                    end = Math.min(plan.size(), from + BLOCK);
                    runner.run(from, end, store, stage, progress);
                    ran = plan.first(end);
                } while (end < plan.size() && !(width(ran, store) <= until.getAsDouble()));
            }
        }
        progress.checkCancelled();
        return ran;
    }

    /** Returns the width of the interval of the chance out of limits. */
    private static double width(SweepPlan ran, SweepStore store) {
        return SweepSummary.of(ran, store.points())
                .broken()
                .map(broken -> broken.most() - broken.least())
                .orElse(1.0);
    }
}
