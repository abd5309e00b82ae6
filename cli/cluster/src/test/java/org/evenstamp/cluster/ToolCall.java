package org.evenstamp.cluster;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Arrays;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;

/** One call of the tool in this process. */
final class ToolCall {
    final StringWriter out = new StringWriter();
    final StringWriter err = new StringWriter();
    final int code;

    ToolCall(Object... arguments) {
        Progress progress = new Progress();
        Console console = new Console(new PrintWriter(out, true), new PrintWriter(err, true), false, false);
        code = Evenstamp.run(
                new ToolContext(console, "development", progress, new Interruption(progress), AnalysisFinder::find),
                Arrays.stream(arguments).map(String::valueOf).toArray(String[]::new));
    }
}
