package org.evenstamp.tool.exit;

import java.io.PrintWriter;
import org.evenstamp.analysis.pipeline.AnalysisFailure;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.CancelledException;

/** Turns an exception into lines for a person and an exit code. */
public final class Failure {
    /** Causes looked at; a stranger's exception may be its own cause. */
    private static final int DEEPEST = 50;

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
                err.println(error() + PlainText.cut(problem.line()));
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
        if (isLackOfMemory(failure)) {
            err.println(error() + "the memory given to Java is too small for this job"
                    + (failure instanceof AnalysisFailure analysis ? ", at the analysis " + analysis.analysisId() : "")
                    + " (take larger tiles, or set EVENSTAMP_JAVA_OPTS=-Xmx8g or more)");
            err.flush();
            return ExitCode.YOUR_INPUT;
        }
        boolean plugIn = failure instanceof AnalysisFailure analysis && analysis.plugIn();
        err.println(error()
                + (plugIn ? "a defect of a plug-in: " : "a defect of evenstamp, not of your input: ")
                + PlainText.cut(
                        failure instanceof AnalysisFailure
                                ? String.valueOf(failure.getMessage())
                                : failure.toString()));
        if (verbose) {
            failure.printStackTrace(err);
        } else if (plugIn) {
            err.println(
                    "tell whoever wrote it, with the output of the same command and --verbose; or take its jar away");
        } else {
            err.println("please report it with the output of the same command and --verbose");
        }
        err.flush();
        return plugIn ? ExitCode.YOUR_INPUT : ExitCode.OUR_BUG;
    }

    private static boolean isLackOfMemory(Throwable failure) {
        Throwable cause = failure;
        for (int depth = 0; cause != null && depth < DEEPEST; depth++) {
            if (cause instanceof OutOfMemoryError) {
                return true;
            }
            cause = cause.getCause();
        }
        return false;
    }

    /** Tells that what was asked for could not be written to standard output. */
    public static int unwritableOutput(PrintWriter err) {
        err.println(error() + "the output could not be written to standard output, or not all of it"
                + " (make room where it goes, or let what reads it read to the end)");
        err.flush();
        return ExitCode.YOUR_INPUT;
    }

    /** Returns the word before an error, coloured on a terminal unless the user wants none. */
    private static String error() {
        String none = System.getenv("NO_COLOR");
        boolean colour = Boolean.getBoolean("evenstamp.terminal.err") && (none == null || none.isEmpty());
        return TextStyle.BAD.on("error:", colour) + " ";
    }
}
