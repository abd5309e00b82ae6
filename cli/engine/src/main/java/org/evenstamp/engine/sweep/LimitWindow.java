package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Between which values of one key all limits of a job hold: from the job's own value, or else the nearest that holds, the value is
 * doubled and halved until a limit breaks, and each end is then halved in between, by ratios, until it is known to 5 %. What lies
 * between runs is taken to hold.
 *
 * @param key the key
 * @param low the lower end; nothing where no value that was tried holds
 * @param high the upper end, likewise
 * @param tries all runs, in their order
 */
public record LimitWindow(String key, Optional<End> low, Optional<End> high, List<Try> tries) {
    /** Largest ratio of the two runs about an end. */
    public static final double ENOUGH = 1.05;

    /** How often a value is doubled or halved at most. */
    public static final int DOUBLINGS = 6;

    /** Copies the runs. */
    public LimitWindow {
        tries = List.copyOf(tries);
    }

    /**
     * One run.
     *
     * @param value of the key, SI
     * @param tightest the limit nearest to breaking, or broken most; nothing where none has a value, or the run failed
     * @param found what that limit looks at, SI
     * @param margin how far inside that is ({@link LimitCheck#margin}), negative outside
     * @param failure why it could not be computed; empty when it was
     */
    public record Try(
            double value, Optional<Limit> tightest, OptionalDouble found, OptionalDouble margin, String failure) {
        /** Returns whether all limits hold. */
        public boolean holds() {
            return failure.isEmpty() && margin.orElse(0) >= 0;
        }
    }

    /**
     * One end of the window.
     *
     * @param inside the last run at which all limits hold
     * @param outside the first beyond it at which one does not; nothing where the end is open as far as was looked
     */
    public record End(Try inside, Optional<Try> outside) {}

    /**
     * Finds the window.
     *
     * @param key of a number above 0 that the job gives
     * @throws InputException when the job has no limits or does not give the key as such a number
     */
    public static LimitWindow of(Job job, String key, RunOptions options, Progress progress) {
        Problems problems = new Problems();
        if (job.limits().isEmpty()) {
            problems.add(
                    "window.no-limits", "limits", "the job has no limits, so nothing closes a window", "give some");
        }
        OptionalDouble own = job.settings().find(key);
        if (own.isEmpty() || job.asWritten(key).isEmpty() || !(own.getAsDouble() > 0)) {
            problems.add(
                    "window.no-value",
                    key,
                    "the job does not give it as a number above 0, from which a window could be looked for",
                    "give it in the job, or name another key");
        }
        problems.throwIfAny();
        try (Stage stage = progress.stage("window", 0, "runs")) {
            return new Search(job, key, options, progress, stage).from(own.getAsDouble());
        }
    }

    private static final class Search {
        private final Job job;
        private final String key;
        private final RunOptions options;
        private final Progress progress;
        private final Stage stage;
        private final TileMaps maps = new TileMaps();
        private final List<Try> tries = new ArrayList<>();

        Search(Job job, String key, RunOptions options, Progress progress, Stage stage) {
            this.job = job;
            this.key = key;
            this.options = options;
            this.progress = progress;
            this.stage = stage;
        }

        LimitWindow from(double own) {
            Try inside = at(own);
            for (int n = 1; !inside.holds() && n <= DOUBLINGS; n++) {
                inside = at(Math.scalb(own, -n));
                inside = inside.holds() ? inside : at(Math.scalb(own, n));
            }
            if (!inside.holds()) {
                return new LimitWindow(key, Optional.empty(), Optional.empty(), tries);
            }
            End low = end(inside, -1);
            End high = end(inside, 1);
            return new LimitWindow(key, Optional.of(low), Optional.of(high), tries);
        }

        private End end(Try start, int direction) {
            Try inside = start;
            Try outside = inside;
            for (int n = 1; n <= DOUBLINGS && outside.holds(); n++) {
                inside = outside;
                outside = at(Math.scalb(start.value, direction * n));
            }
            if (outside.holds()) {
                return new End(outside, Optional.empty());
            }
            while (Math.max(inside.value / outside.value, outside.value / inside.value) > ENOUGH) {
                Try between = at(Math.sqrt(inside.value * outside.value));
                inside = between.holds() ? between : inside;
                outside = between.holds() ? outside : between;
            }
            return new End(inside, Optional.of(outside));
        }

        private Try at(double value) {
            for (Try before : tries) {
                if (before.value == value) {
                    return before;
                }
            }
            Try now = run(value);
            tries.add(now);
            stage.advance(1);
            return now;
        }

        private Try run(double value) {
            try {
                Job variant = job.with(key, value);
                Outcome outcome = Simulation.analyse(variant, maps.of(variant, progress), options, progress);
                Optional<Finding.Warning> gaveUp = outcome.results().stream()
                        .flatMap(answer -> answer.result().warnings().stream())
                        .filter(warning -> warning.code().equals(Unfilled.INCOMPLETE))
                        .findFirst();
                return gaveUp.map(warning -> failed(value, warning.message()))
                        .orElseGet(() -> judged(value, outcome.fields()));
            } catch (InputException e) {
                return failed(value, e.problems().stream().map(Problem::line).collect(Collectors.joining("; ")));
            }
        }

        private static Try failed(double value, String reason) {
            return new Try(value, Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty(), reason);
        }

        private Try judged(double value, FieldSet fields) {
            Try tightest = new Try(value, Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty(), "");
            for (Limit limit : job.limits()) {
                OptionalDouble found = LimitCheck.found(limit, fields);
                if (found.isPresent()) {
                    double margin = LimitCheck.margin(limit, found.getAsDouble());
                    if (margin < tightest.margin.orElse(Double.POSITIVE_INFINITY)) {
                        tightest = new Try(value, Optional.of(limit), found, OptionalDouble.of(margin), "");
                    }
                }
            }
            return tightest;
        }
    }
}
