package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.Progress;

/** Computes single points of a sweep, each on one thread. Points that need the same tile map share it. For use by several threads. */
public final class PointRun {
    private final SweepPlan plan;
    private final TileMaps maps = new TileMaps();

    /** Creates one for the points of a plan. */
    public PointRun(SweepPlan plan) {
        this.plan = plan;
    }

    /**
     * What a point found.
     *
     * @param point its numbers, or why it could not be computed
     * @param kept its fields to keep, in the order of the plan; none when it failed
     */
    public record Found(SweepPoint point, List<Field> kept) {
        /** Copies the list. */
        public Found {
            kept = List.copyOf(kept);
        }
    }

    /** Computes a point; one that cannot be computed says why. */
    public Found of(int index, Progress progress) {
        try {
            Job job = plan.variant(index);
            Outcome outcome =
                    Simulation.analyse(job, maps.of(job, progress), RunOptions.STANDARD.withThreads(1), progress);
            FieldSet fields = outcome.fields();
            List<Field> kept = new ArrayList<>();
            for (String id : plan.kept()) {
                kept.add(fields.find(id)
                        .orElseThrow(() -> new InputException(
                                "sweep.no-field", "sweep.keep", "no analysis of this point gives " + id, "")));
            }
            return new Found(point(index, job, outcome), kept);
        } catch (InputException e) {
            String reason = e.problems().stream().map(Problem::line).collect(Collectors.joining("; "));
            return new Found(SweepPoint.failed(index, reason), List.of());
        }
    }

    private static SweepPoint point(int index, Job job, Outcome outcome) {
        List<OptionalDouble> found = new ArrayList<>();
        List<OptionalDouble> margins = new ArrayList<>();
        for (Limit limit : job.limits()) {
            OptionalDouble value = LimitCheck.found(limit, outcome.fields());
            found.add(value);
            margins.add(
                    value.isPresent()
                            ? OptionalDouble.of(LimitCheck.margin(limit, value.getAsDouble()))
                            : OptionalDouble.empty());
        }
        Map<String, Double> figures = new LinkedHashMap<>();
        outcome.results()
                .forEach(answer -> answer.result()
                        .figures()
                        .forEach(figure -> figures.put(answer.analysis().id() + "." + figure.id(), figure.valueSi())));
        return new SweepPoint(index, "", found, margins, figures);
    }
}
