package org.evenstamp.cluster;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.apache.flink.runtime.throwable.ThrowableAnnotation;
import org.apache.flink.runtime.throwable.ThrowableType;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;

/**
 * A worker cannot go on for a reason that the user can mend. On its way to the client only the text of an exception is sure to
 * survive, so the problem is in the text. No other try mends it, so the engine makes none.
 */
@ThrowableAnnotation(ThrowableType.NonRecoverableError)
final class WorkerProblem extends RuntimeException {
    private static final String MARK = "evenstamp-problem";
    private static final Pattern TEXT =
            Pattern.compile(MARK + "<([^<>]*)><([^<>]*)><([^<>]*)><([^<>]*)>", Pattern.DOTALL);
    private static final int DEEPEST = 30;

    WorkerProblem(String code, String about, String message, String fix) {
        super(MARK + "<" + plain(code) + "><" + plain(about) + "><" + plain(message) + "><" + plain(fix) + ">");
    }

    /** Makes one of the first problem of an input that a worker cannot work with. */
    static WorkerProblem of(InputException e) {
        Problem first = e.problems().get(0);
        return new WorkerProblem(first.code(), first.place(), first.message(), first.fix());
    }

    private static String plain(String text) {
        return text.replace('<', '(').replace('>', ')');
    }

    /** Finds the problem in what a job failed with. */
    static Optional<InputException> in(Throwable failure) {
        Throwable cause = failure;
        for (int depth = 0; cause != null && depth < DEEPEST; depth++) {
            Matcher found = TEXT.matcher(String.valueOf(cause.getMessage()));
            if (found.find()) {
                return Optional.of(new InputException(found.group(1), found.group(2), found.group(3), found.group(4)));
            }
            cause = cause.getCause();
        }
        return Optional.empty();
    }
}
