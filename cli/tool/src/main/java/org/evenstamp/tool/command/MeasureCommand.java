package org.evenstamp.tool.command;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.remote.RemoteEngines;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code measure LAYOUT}: the tile map alone. */
@Command(
        name = "measure",
        description = {
            "Measures a layout on tiles: cavity fraction and volume, edges, squeeze moment, flow paths, widths.",
            "Prints a table, or JSON; with --out it also writes the results directory, as run does.",
            "With --engine a cluster measures it, such as flink://HOST:8081: of a layout in lines that is not compressed, without arrays,"
                    + " textures or regions. Its report shows no polygons. Needs the archive for clusters."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp measure first/layout.geojson --tile \"50 um\"",
            "  evenstamp measure first/layout.geojson --depth \"150 nm\" --out map"
        })
final class MeasureCommand implements Callable<Integer> {
    private final ToolContext context;

    @Parameters(paramLabel = "LAYOUT", description = "The layout file.")
    @Nullable
    Path file;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            description = "Length of one coordinate step, such as um or \"5 nm\".")
    @Nullable
    String unit;

    @Option(
            names = "--format",
            paramLabel = "FORMAT",
            description = "Format of the file; found from its content by default.")
    @Nullable
    String format;

    @Option(names = "--tile", paramLabel = "LENGTH", description = "Side of a tile, such as \"100 um\".")
    @Nullable
    String tile;

    @Option(names = "--depth", paramLabel = "LENGTH", description = "Cavity depth of features without their own.")
    @Nullable
    String depth;

    @Option(
            names = "--drawn",
            paramLabel = "WHAT",
            description = "What the polygons are: cavities (default) or protrusions.")
    @Nullable
    String drawn;

    @Option(
            names = "--structure",
            paramLabel = "HOW",
            description = "How squeeze moment and flow paths are found: auto (default), solved or estimated.")
    @Nullable
    String structure;

    @Option(names = "--repair", description = "Repair bad features where possible instead of skipping them.")
    boolean repair;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    EngineOptions engine = new EngineOptions();

    @Spec
    CommandSpec spec = CommandSpec.create();

    MeasureCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path layout = Objects.requireNonNull(file);
        Map<String, String> given = new LinkedHashMap<>();
        put(given, "layout.unit", unit);
        put(given, "layout.format", format);
        put(given, "layout.drawn", drawn);
        put(given, "layout.bad-features", repair ? "repair" : null);
        put(given, "tiles.side", tile);
        put(given, "tiles.structure", structure);
        put(given, "stamp.depth", depth);
        Job job;
        try {
            job = Job.ofLayout(layout, given);
        } catch (InputException e) {
            throw new ParameterException(spec.commandLine(), e.getMessage(), e);
        }
        JobRunner runner = new JobRunner(context, options);
        engine.place(options.threads(), List.of())
                .ifPresent(place -> runner.measuring(
                        () -> RemoteEngines.of(place).measure(place, layout, given, context.progress())));
        return runner.run(job, options.out);
    }

    private static void put(Map<String, String> given, String key, @Nullable String value) {
        if (value != null) {
            given.put(key, value);
        }
    }
}
