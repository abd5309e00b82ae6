package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Option;
import picocli.CommandLine.TypeConversionException;

/** Options of every command that computes. */
final class CommonOptions {
    @Option(names = "--out", paramLabel = "DIR", description = "Directory for the results.")
    @Nullable
    Path out;

    @Option(
            names = "--replace",
            description = "Let the new results take the place of old ones, once they are complete.")
    boolean replace;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = Count.class,
            description = "Number of threads, all processors by default. Does not change the results.")
    @Nullable
    Integer threads;

    @Option(names = "--no-report", description = "Leave out report.html, the page with maps and curves.")
    boolean noReport;

    @Option(
            names = "--pictures",
            description = "Draw every field and every curve as SVG too, and curves as PNG (maps always are).")
    boolean pictures;

    @Option(
            names = "--tiles-geojson",
            description = "Write the tiles as polygons too (tiles.geojson, larger than tiles.csv), for GIS viewers.")
    boolean tilesGeoJson;

    @Option(
            names = "--json",
            description =
                    "Print JSON instead of the summary: result.json, of dummy comparison.json, of sensitivity sensitivity.json.")
    boolean json;

    @Option(names = "--quiet", description = "Print nothing but problems.")
    boolean quiet;

    @Option(
            names = "--exceeded-ok",
            description =
                    "End with 0 also when a limit is exceeded: the code then says only whether results were computed.")
    boolean exceededOk;

    /** Returns the exit code of results that were computed. */
    int exitCode(Results results) {
        return exceededOk || results.broken().isEmpty() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
    }

    int threads() {
        return run().threads();
    }

    /** Returns how to compute a job whose results are written. */
    RunOptions run() {
        return run(threads).withSketch(!noReport);
    }

    /** Returns how to compute, on this number of threads if one is given. */
    static RunOptions run(@Nullable Integer threads) {
        return threads == null ? RunOptions.STANDARD : RunOptions.STANDARD.withThreads(threads);
    }

    /** Directories of plug-ins. */
    static final class Plugins {
        @Option(
                names = "--plugins",
                paramLabel = "DIR",
                description = "Directory with jars that hold more analyses; may be given several times.")
        List<Path> directories = new ArrayList<>();
    }

    /** A number of at least 1. */
    static final class Count implements ITypeConverter<Integer> {
        @Override
        public Integer convert(String text) {
            if (!text.matches("[1-9][0-9]{0,3}")) {
                throw new TypeConversionException("\"" + text + "\" is not a number from 1 to 9999");
            }
            return Integer.valueOf(text);
        }
    }
}
