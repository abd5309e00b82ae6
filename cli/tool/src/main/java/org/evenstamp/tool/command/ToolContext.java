package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.console.Console;
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
        Function<List<Path>, List<FoundAnalysis>> analyses) {}
