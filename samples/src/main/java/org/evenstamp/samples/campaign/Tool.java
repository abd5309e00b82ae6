package org.evenstamp.samples.campaign;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.samples.campaign.Trial.End;
import org.evenstamp.samples.campaign.Trial.Verdict;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.ExitCode;
import org.evenstamp.tool.exit.Failure;
import org.evenstamp.tool.exit.Interruption;

/** Runs a command line of the tool in this process and judges how it ended. */
final class Tool {
    private static final int LONGEST_LINE = 1500;
    static final List<FoundAnalysis> OURS = AnalysisFinder.find(List.of());

    private static final Pipeline PIPELINE = new Pipeline(OURS);

    private Tool() {}

    /**
     * Reads a job as the verb {@code check} does and opens its layout, without a command line, which takes longer to be built than a small job to be
     * read; judges what would be said.
     */
    static Verdict check(Path job) {
        try {
            OpenLayout.open(Job.read(job, PIPELINE).layout());
            return Verdict.of(End.TAKEN);
        } catch (Throwable e) {
            return told(e);
        }
    }

    /** Judges how the tool tells a failure. */
    static Verdict told(Throwable failure) {
        StringWriter err = new StringWriter();
        int code = Failure.tell(failure, new PrintWriter(err, true), false);
        return judged(code, err.toString(), "");
    }

    static Verdict run(Progress progress, Object... arguments) {
        return run(progress, new StringWriter(), arguments);
    }

    /** Runs it with a standard output of the caller's. */
    static Verdict run(Progress progress, StringWriter out, Object... arguments) {
        return run(progress, out, OURS, arguments);
    }

    /** Runs it with analyses of the caller's. */
    static Verdict run(Progress progress, StringWriter out, List<FoundAnalysis> analyses, Object... arguments) {
        StringWriter err = new StringWriter();
        int code = Evenstamp.run(
                new ToolContext(
                        new Console(new PrintWriter(out), new PrintWriter(err), false, false),
                        "campaign",
                        progress,
                        new Interruption(progress),
                        directories -> analyses),
                Stream.of(arguments).map(Object::toString).toArray(String[]::new));
        return judged(code, err.toString(), out.toString());
    }

    private static Verdict judged(int code, String said, String out) {
        boolean names = said.contains("Exception") && !said.contains("a defect of a plug-in");
        if (code == ExitCode.OUR_BUG || said.contains("\tat ") || names) {
            return Verdict.found("exit " + code + ": " + shortened(said));
        }
        if (code == ExitCode.YOUR_INPUT && said.isBlank()) {
            return Verdict.found("exit 3 without a word");
        }
        if (said.lines().anyMatch(line -> line.length() > LONGEST_LINE)) {
            return Verdict.found("a line of more than " + LONGEST_LINE + " characters: " + shortened(said));
        }
        boolean raw = (said + out).chars().anyMatch(c -> (c < ' ' && c != '\n' && c != '\t') || c == 0x7f);
        if (raw) {
            return Verdict.found("a control character as it came: " + shortened(said));
        }
        boolean done = code <= ExitCode.LIMIT_EXCEEDED || code == ExitCode.CANCELLED;
        return Verdict.of(done ? End.TAKEN : End.REFUSED);
    }

    private static String shortened(String text) {
        return text.substring(0, Math.min(text.length(), 600)).strip();
    }
}
