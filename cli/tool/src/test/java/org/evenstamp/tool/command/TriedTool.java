package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;

/** The tool with the analyses it ships, away from a terminal; what it prints is kept. */
public final class TriedTool {
    final StringWriter out = new StringWriter();
    /** What it says of problems. */
    public final StringWriter err = new StringWriter();

    /** Returns context of its own for one run. */
    ToolContext context() {
        Progress progress = new Progress();
        return new ToolContext(
                new Console(new PrintWriter(out), new PrintWriter(err), false, false),
                "1.2.3",
                progress,
                new Interruption(progress),
                AnalysisFinder::find);
    }

    /** Runs a command line and returns its exit code. */
    public int run(Object... arguments) {
        return Evenstamp.run(
                context(), Stream.of(arguments).map(Object::toString).toArray(String[]::new));
    }
}
