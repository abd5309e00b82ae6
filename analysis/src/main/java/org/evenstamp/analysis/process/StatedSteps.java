package org.evenstamp.analysis.process;

import java.util.List;

/**
 * A hot press whose steps are stated one by one.
 *
 * @param steps the steps, each going straight from where the one before ended
 */
public record StatedSteps(List<ProcessStep> steps) implements ProcessKind {
    /** Copies the steps. */
    public StatedSteps {
        steps = List.copyOf(steps);
    }

    @Override
    public String id() {
        return "hot-press";
    }
}
