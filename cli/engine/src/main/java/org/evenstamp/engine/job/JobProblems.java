package org.evenstamp.engine.job;

import java.util.List;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/** Collects the problems of one job, each at its place in the job's text. Not for use by several threads. */
final class JobProblems {
    private final JobText text;
    private final Problems found = new Problems();

    JobProblems(JobText text) {
        this.text = text;
    }

    /** Adds one at a mark; without one, or for what stands nowhere, the place is the job as a whole. */
    void add(JobNode.@Nullable Mark mark, String code, String message, String fix) {
        found.add(code, text.place(mark), message, fix);
    }

    /** Adds those that were found elsewhere and know their place. */
    void addAll(List<Problem> problems) {
        problems.forEach(problem -> found.add(problem.code(), problem.place(), problem.message(), problem.fix()));
    }

    /** Adds those of an exception that know their place. */
    void add(InputException exception) {
        found.add(exception);
    }

    /** Throws all of them as one exception, or returns when there is none. */
    void throwIfAny() {
        found.throwIfAny();
    }
}
