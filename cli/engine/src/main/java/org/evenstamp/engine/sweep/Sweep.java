package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.SweepChoice;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Runs the points of a sweep that are not there yet, several at a time, each on one thread. Points that need the same tile map
 * share it. A point that cannot be computed is kept with its reason and ends nothing else.
 */
public final class Sweep {
    private static final long LOOK_MILLIS = 100;

    /** Samples after which a sweep looks whether it knows enough. */
    private static final int BLOCK = 32;

    private final SweepPlan plan;
    private final SweepStore store;
    private final TileMaps maps = new TileMaps();
    private final Progress inner = new Progress();

    private Sweep(SweepPlan plan, SweepStore store) {
        this.plan = plan;
        this.store = store;
    }

    /**
     * Runs what is missing.
     *
     * @param threads how many points are computed at a time, at least 1; the answers do not depend on it
     * @return the plan of the points that count: the whole, or what was enough for {@code sweep.until}
     * @throws CancelledException soon after the progress was cancelled; the points that have ended are in the store
     */
    public static SweepPlan run(SweepPlan plan, SweepStore store, int threads, Progress progress) {
        return new Sweep(plan, store).run(threads, progress);
    }

    private SweepPlan run(int threads, Progress progress) {
        OptionalDouble until = plan.job().settings().find(SweepChoice.UNTIL.id());
        ExecutorService workers = Executors.newFixedThreadPool(threads, task -> {
            Thread thread = new Thread(task, "sweep");
            thread.setDaemon(true);
            return thread;
        });
        SweepPlan ran = plan;
        try (Stage stage = progress.stage("sweep", plan.size(), "points")) {
            if (until.isEmpty() || plan.design() != SweepPlan.Design.SOBOL) {
                run(0, plan.size(), threads, workers, stage, progress);
            } else {
                int end = 0;
                do {
                    int from = end;
                    end = Math.min(plan.size(), from + BLOCK);
                    run(from, end, threads, workers, stage, progress);
                    ran = plan.first(end);
                } while (end < plan.size() && !(width(ran) <= until.getAsDouble()));
            }
        } finally {
            inner.cancel();
            workers.shutdownNow();
        }
        progress.checkCancelled();
        return ran;
    }

    /** Returns the width of the interval of the chance out of limits. */
    private double width(SweepPlan ran) {
        return SweepSummary.of(ran, store.points())
                .broken()
                .map(broken -> broken.most() - broken.least())
                .orElse(1.0);
    }

    private void run(int from, int to, int threads, ExecutorService workers, Stage stage, Progress progress) {
        AtomicInteger next = new AtomicInteger(from);
        List<Future<?>> running = new ArrayList<>();
        for (int i = 0; i < threads; i++) {
            running.add(workers.submit(() -> work(next, to, stage)));
        }
        for (Future<?> one : running) {
            await(one, progress);
        }
    }

    private void await(Future<?> worker, Progress progress) {
        while (true) {
            try {
                worker.get(LOOK_MILLIS, TimeUnit.MILLISECONDS);
                return;
            } catch (TimeoutException e) {
                progress.checkCancelled(); // the workers hear of it when the caller ends
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new CancelledException();
            } catch (ExecutionException e) {
                if (e.getCause() instanceof RuntimeException failure) {
                    throw failure;
                }
                throw new IllegalStateException(e.getCause());
            }
        }
    }

    private void work(AtomicInteger next, int to, Stage stage) {
        for (int index = next.getAndIncrement(); index < to; index = next.getAndIncrement()) {
            inner.checkCancelled();
            if (!store.has(index)) {
                compute(index);
            }
            inner.forgetClosed();
            stage.advance(1);
        }
    }

    private void compute(int index) {
        try {
            Job job = plan.variant(index);
            Outcome outcome = Simulation.analyse(job, maps.of(job, inner), RunOptions.STANDARD.withThreads(1), inner);
            FieldSet fields = outcome.fields();
            List<Field> kept = new ArrayList<>();
            for (String id : plan.kept()) {
                kept.add(fields.find(id)
                        .orElseThrow(() -> new InputException(
                                "sweep.no-field", "sweep.keep", "no analysis of this point gives " + id, "")));
            }
            store.add(point(index, job, outcome), kept);
        } catch (InputException e) {
            String reason = e.problems().stream().map(Problem::line).collect(Collectors.joining("; "));
            store.add(SweepPoint.failed(index, reason), List.of());
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
