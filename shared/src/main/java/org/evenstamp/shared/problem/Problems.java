package org.evenstamp.shared.problem;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Collects problems so that the user sees all of them at once, each once. Not for use by several threads. */
public final class Problems {
    private final Set<Problem> found = new LinkedHashSet<>();

    /** Adds one, unless the same was added before. */
    public void add(Problem problem) {
        found.add(problem);
    }

    /** Adds one that is not about a place in a file. */
    public void add(String code, String about, String message, String fix) {
        add(new Problem(code, about, message, fix));
    }

    /** Adds one at a place. */
    public void add(String code, Source source, String message, String fix) {
        add(new Problem(code, source, "", message, fix));
    }

    /** Adds all problems of an exception. */
    public void add(InputException exception) {
        found.addAll(exception.problems());
    }

    /** Returns whether there is none. */
    public boolean isEmpty() {
        return found.isEmpty();
    }

    /** Returns those found so far, in the order they were found. */
    public List<Problem> all() {
        return List.copyOf(found);
    }

    /** Throws all of them as one {@link InputException}, or returns when there is none. */
    public void throwIfAny() {
        if (!found.isEmpty()) {
            throw new InputException(all());
        }
    }
}
