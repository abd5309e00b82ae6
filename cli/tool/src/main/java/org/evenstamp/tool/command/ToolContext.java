package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import java.util.function.Supplier;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.console.ProgressLine;
import org.evenstamp.tool.exit.Interruption;

/**
 * The world a command runs in.
 *
 * @param console where it speaks
 * @param version version of the tool
 * @param progress where its work is counted and stopped
 * @param interruption what is to be cleaned up when the user stops it
 * @param analyses finds the analyses, given the plug-in directories
 */
public record ToolContext(
        Console console,
        String version,
        Progress progress,
        Interruption interruption,
        Function<List<Path>, List<FoundAnalysis>> analyses) {
    /** Returns the analyses that a job may set parameters of. */
    Pipeline pipeline(List<Path> plugins) {
        return new Pipeline(analyses.apply(plugins));
    }

    /**
     * Does work while its progress is shown.
     *
     * @param shown whether it may be shown; away from a terminal it is not in any case
     */
    <T> T watched(boolean shown, Supplier<T> work) {
        ProgressLine line = new ProgressLine(progress, console.err(), console.live() && shown);
        try {
            return work.get();
        } finally {
            line.close();
        }
    }
}
