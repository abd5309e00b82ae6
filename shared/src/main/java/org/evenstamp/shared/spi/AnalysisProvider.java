package org.evenstamp.shared.spi;

import java.util.List;
import org.evenstamp.shared.field.FieldName;

/**
 * Makes one kind of analysis. Implementations are found by {@link java.util.ServiceLoader}: a public class with a public
 * constructor without arguments, named in {@code META-INF/services/org.evenstamp.shared.spi.AnalysisProvider}.
 */
public interface AnalysisProvider {
    /** Returns what the analysis declares; the same on every call. */
    AnalysisDescription description();

    /**
     * Returns those of its figures that a job may limit, by the id of the analysis, a dot and the id of the figure, and in the unit of the
     * figure. A run need not have each of them.
     */
    default List<FieldName> limitableFigures() {
        return List.of();
    }

    /**
     * Returns the required parameters that belong to one way of working, such as the speed of a roller: a job that does not give
     * one of them is not told that this analysis did not run.
     */
    default List<String> quietWithout() {
        return List.of();
    }

    /**
     * Makes an analysis for checked parameters: every required one is there, every number is in its range.
     *
     * @throws org.evenstamp.shared.problem.InputException when the parameters contradict each other
     */
    Analysis create(Parameters parameters);
}
