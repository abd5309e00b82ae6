package org.evenstamp.shared.problem;

import java.util.List;
import java.util.stream.Collectors;

/** The user's input cannot be worked with. Carries every problem that was found, at least one. */
public final class InputException extends RuntimeException {
    private final transient List<Problem> problems;

    /** Creates it from all problems found. */
    public InputException(List<Problem> problems) {
        super(problems.stream().map(Problem::line).collect(Collectors.joining(System.lineSeparator())));
        if (problems.isEmpty()) {
            throw new IllegalArgumentException("an InputException needs a problem");
        }
        this.problems = List.copyOf(problems);
    }

    /** Creates it from one problem that is not about a place in a file. */
    public InputException(String code, String about, String message, String fix) {
        this(List.of(new Problem(code, about, message, fix)));
    }

    /** Creates it from one problem at a place. */
    public InputException(String code, Source source, String message, String fix) {
        this(List.of(new Problem(code, source, "", message, fix)));
    }

    /** Returns the problems in the order they were found. */
    public List<Problem> problems() {
        return problems;
    }
}
