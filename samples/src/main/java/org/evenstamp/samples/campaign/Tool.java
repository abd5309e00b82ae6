package org.evenstamp.samples.campaign;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.samples.campaign.Trial.End;
import org.evenstamp.samples.campaign.Trial.Verdict;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.ExitCode;
import org.evenstamp.tool.exit.Interruption;

/** Runs a command line of the tool in this process and judges how it ended. */
final class Tool {
    private static final int LONGEST_LINE = 1500;
    private static final java.util.List<FoundAnalysis> OURS = AnalysisFinder.find(java.util.List.of());

    private Tool() {}

    static Verdict run(Progress progress, Object... arguments) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code = Evenstamp.run(
                new ToolContext(
                        new Console(new PrintWriter(out), new PrintWriter(err), false, false),
                        "campaign",
                        progress,
                        new Interruption(progress),
                        directories -> OURS),
                Stream.of(arguments).map(Object::toString).toArray(String[]::new));
        String said = err.toString();
        if (code == ExitCode.OUR_BUG || said.contains("\tat ") || said.contains("Exception")) {
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
        return Verdict.of(code <= ExitCode.LIMIT_EXCEEDED ? End.TAKEN : End.REFUSED);
    }

    private static String shortened(String text) {
        return text.substring(0, Math.min(text.length(), 600)).strip();
    }
}
