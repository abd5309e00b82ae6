package org.evenstamp.tool;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Failure;
import org.evenstamp.tool.exit.Interruption;

/**
 * The process: gives the commands their context and ends with their exit code.
 *
 * <p>Whether the standard streams are terminals Java cannot say of each; the launcher says it by the system properties
 * {@code evenstamp.terminal.out} and {@code evenstamp.terminal.err}. Without them, as with {@code java -jar}, nothing is coloured
 * or overwritten.
 */
public final class Main {
    private Main() {}

    /** Runs a command line and ends the process; whatever is thrown, never with an exit code that means something else. */
    public static void main(String[] arguments) {
        int code;
        try {
            code = run(arguments);
        } catch (Throwable failure) {
            code = Failure.tell(failure, writer(FileDescriptor.err), false);
        }
        System.exit(code);
    }

    private static int run(String[] arguments) {
        Progress progress = new Progress();
        Interruption interruption = new Interruption(progress);
        boolean plain =
                System.getenv("NO_COLOR") != null && !System.getenv("NO_COLOR").isEmpty();
        Console console = new Console(
                writer(FileDescriptor.out),
                writer(FileDescriptor.err),
                Boolean.getBoolean("evenstamp.terminal.out") && !plain,
                Boolean.getBoolean("evenstamp.terminal.err"));
        interruption.watch(console.err());
        int code = Evenstamp.run(
                new ToolContext(console, Simulation.version(), progress, interruption, AnalysisFinder::find),
                arguments);
        interruption.finished();
        return code;
    }

    private static PrintWriter writer(FileDescriptor descriptor) {
        return new PrintWriter(new OutputStreamWriter(new FileOutputStream(descriptor), StandardCharsets.UTF_8), false);
    }
}
