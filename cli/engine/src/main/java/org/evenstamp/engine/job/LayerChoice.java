package org.evenstamp.engine.job;

import java.nio.file.Path;
import org.evenstamp.geometry.read.LayoutFormat;
import org.evenstamp.geometry.read.ReadOptions;
import org.jspecify.annotations.Nullable;

/**
 * A file of a layout.
 *
 * @param file where it is
 * @param asWritten how the job or the command line names it
 * @param format its format; null to look at its content
 * @param metresPerUnit length of one coordinate step; null when the file says it
 * @param assigned what the job says of all its features
 * @param stepped whether it is stepped over the stamp where the job has an array of dies, and does not stand there once
 */
public record LayerChoice(
        Path file,
        String asWritten,
        @Nullable LayoutFormat format,
        @Nullable Double metresPerUnit,
        ReadOptions.Assigned assigned,
        boolean stepped) {}
