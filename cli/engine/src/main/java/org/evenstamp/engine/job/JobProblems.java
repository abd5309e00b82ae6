package org.evenstamp.engine.job;

import java.util.List;
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

    /**
     * Adds one.
     *
     * @param mark where it stands; null for the job as a whole
     * @param key the key that it is about; empty for none
     * @param message what is wrong, naming the key
     */
    void add(JobNode.@Nullable Mark mark, String code, String key, String message, String fix) {
        found.add(new Problem(code, text.source(mark), key, message, fix));
    }

    /** Adds one that knows its place. */
    void add(Problem problem) {
        found.add(problem);
    }

    /** Adds those that know their place. */
    void addAll(List<Problem> problems) {
        problems.forEach(found::add);
    }

    List<Problem> all() {
        return found.all();
    }

    /** Throws all of them as one exception, or returns when there is none. */
    void throwIfAny() {
        found.throwIfAny();
    }
}
