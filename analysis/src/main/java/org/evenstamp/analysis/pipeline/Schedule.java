package org.evenstamp.analysis.pipeline;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.spi.AnalysisResult;

/**
 * Hands out the steps of a plan, each once those it reads from are done. A step whose sources failed is never handed out. For
 * use by several threads.
 */
final class Schedule {
    private final Map<String, FoundAnalysis> givers;
    private final List<Plan.Step> waiting;
    private final Map<FoundAnalysis, AnalysisResult> results = new HashMap<>();
    private final Map<FoundAnalysis, Throwable> failures = new HashMap<>();
    private int running;

    /** Starts with all steps waiting. */
    Schedule(List<Plan.Step> steps, Map<String, FoundAnalysis> givers) {
        waiting = new ArrayList<>(steps);
        this.givers = givers;
    }

    /** Waits for a step that can run, and returns it; nothing when there is none and there will be none. */
    synchronized Optional<Plan.Step> next() throws InterruptedException {
        while (true) {
            for (Iterator<Plan.Step> steps = waiting.iterator(); steps.hasNext(); ) {
                Plan.Step step = steps.next();
                if (results.keySet().containsAll(Compatibility.sources(step.found(), givers))) {
                    steps.remove();
                    running++;
                    return Optional.of(step);
                }
            }
            if (running == 0) {
                return Optional.empty();
            }
            wait();
        }
    }

    /** Returns the fields that the sources of a step gave. */
    synchronized List<Field> given(Plan.Step step) {
        return Compatibility.sources(step.found(), givers).stream()
                .flatMap(source -> Objects.requireNonNull(results.get(source)).fields().stream())
                .toList();
    }

    /** Takes the result of a step. */
    synchronized void done(Plan.Step step, AnalysisResult result) {
        results.put(step.found(), result);
        running--;
        notifyAll();
    }

    /** Takes the failure of a step. */
    synchronized void failed(Plan.Step step, Throwable failure) {
        failures.put(step.found(), failure);
        running--;
        notifyAll();
    }

    /** Returns what a step gave, if it ended well. */
    synchronized Optional<AnalysisResult> result(FoundAnalysis analysis) {
        return Optional.ofNullable(results.get(analysis));
    }

    /** Returns why a step ended, if it failed. */
    synchronized Optional<Throwable> failure(FoundAnalysis analysis) {
        return Optional.ofNullable(failures.get(analysis));
    }
}
