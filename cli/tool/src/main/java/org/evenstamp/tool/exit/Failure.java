package org.evenstamp.tool.exit;

import java.io.PrintWriter;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.CancelledException;

/** Turns an exception into lines for a person and an exit code. */
public final class Failure {
    private Failure() {}

    /**
     * Tells what went wrong: one line a problem for what the user can mend, a short message for a defect of ours.
     *
     * @param err where to write
     * @param verbose whether a defect comes with its stack trace
     * @return the exit code
     */
    public static int tell(Throwable failure, PrintWriter err, boolean verbose) {
        if (failure instanceof InputException input) {
            for (Problem problem : input.problems()) {
                err.println("error: " + oneLine(problem.line()));
            }
            int count = input.problems().size();
            if (count > 1) {
                err.println(count + " problems");
            }
            err.flush();
            return ExitCode.YOUR_INPUT;
        }
        if (failure instanceof CancelledException) {
            err.println("cancelled; nothing was written");
            err.flush();
            return ExitCode.CANCELLED;
        }
        if (failure instanceof OutOfMemoryError) {
            err.println("error: the memory given to Java is too small for this job"
                    + " (take larger tiles, or set EVENSTAMP_JAVA_OPTS=-Xmx8g or more)");
            err.flush();
            return ExitCode.YOUR_INPUT;
        }
        err.println("error: a defect of evenstamp, not of your input: " + oneLine(failure.toString()));
        if (verbose) {
            failure.printStackTrace(err);
        } else {
            err.println("please report it with the output of the same command and --verbose");
        }
        err.flush();
        return ExitCode.OUR_BUG;
    }

    private static String oneLine(String text) {
        return text.strip().replaceAll("\\s*\\R\\s*", " ");
    }
}
