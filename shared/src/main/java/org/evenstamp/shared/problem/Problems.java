package org.evenstamp.shared.problem;

import java.util.ArrayList;
import java.util.List;

/** Collects problems so that the user sees all of them at once. Not for use by several threads. */
public final class Problems {
    private final List<Problem> found = new ArrayList<>();

    /** Adds one. */
    public void add(String code, String place, String message, String fix) {
        found.add(new Problem(code, place, message, fix));
    }

    /** Adds all problems of an exception. */
    public void add(InputException exception) {
        found.addAll(exception.problems());
    }

    /** Returns whether there is none. */
    public boolean isEmpty() {
        return found.isEmpty();
    }

    /** Returns those found so far. */
    public List<Problem> all() {
        return List.copyOf(found);
    }

    /** Throws all of them as one {@link InputException}, or returns when there is none. */
    public void throwIfAny() {
        if (!found.isEmpty()) {
            throw new InputException(found);
        }
    }
}
