package org.evenstamp.tool.command;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.Supplier;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.FileHash;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.TilesGeoJson;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.output.page.ReportPage;
import org.evenstamp.output.picture.CurveDrawing;
import org.evenstamp.output.picture.MapSvg;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.tool.console.ProgressLine;
import org.evenstamp.tool.console.Summary;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;

/** Computes a job, puts the results where they belong and tells the user. */
final class JobRunner {
    private final ToolContext context;
    private final CommonOptions options;
    private final StageMemory stages;
    private final StageMemory pictures;

    JobRunner(ToolContext context, CommonOptions options) {
        this(context, options, new StageMemory(0), new StageMemory(0));
    }

    /** A delivery that remembers the stages of its computations, and pictures. */
    JobRunner(ToolContext context, CommonOptions options, StageMemory stages, StageMemory pictures) {
        this.context = context;
        this.options = options;
        this.stages = stages;
        this.pictures = pictures;
    }

    /** A file whose hash goes into the results. */
    record Input(Path file, String name) {
        /** Returns the files that a job reads: itself, its layout, its materials and its film map. */
        static List<Input> of(Path jobFile, Job job) {
            Path name = Objects.requireNonNull(jobFile.getFileName());
            List<Input> inputs = new ArrayList<>();
            inputs.add(new Input(jobFile, name.toString()));
            inputs.add(new Input(job.layout().file(), job.layout().asWritten()));
            Job.MaterialFile materials = job.materials();
            if (materials != null) {
                inputs.add(new Input(materials.file(), materials.asWritten()));
            }
            Job.Coating film = job.film();
            if (film != null) {
                inputs.add(new Input(film.map().file(), film.map().asWritten()));
            }
            return inputs;
        }
    }

    /**
     * Runs it.
     *
     * @param out directory for the results; null to write none
     * @return the exit code
     */
    int run(Job job, List<Input> inputs, @Nullable Path out) {
        Results results = out == null
                ? compute(computation(false), job, options.json ? inputs : List.of())
                : write(job, inputs, out);
        if (!options.quiet) {
            context.console()
                    .out()
                    .print(
                            options.json
                                    ? ResultJson.write(results)
                                    : Summary.of(results, out == null ? null : out.toString(), context.console()));
            context.console().out().flush();
        }
        return results.broken().isEmpty() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
    }

    private Computation computation(boolean sketching) {
        return new Computation(context, options.threads(), sketching, stages);
    }

    /** Computes a job, puts the results where they belong and tells nothing. */
    Results write(Job job, List<Input> inputs, Path out) {
        Computation computation = computation(!options.noReport);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            Instant started = Instant.now();
            long begin = System.nanoTime();
            Results results = compute(computation, job, inputs);
            double seconds = (System.nanoTime() - begin) * 1e-9;
            watched(() -> {
                if (options.pictures) {
                    draw(results, directory);
                }
                writeReport(new PageContent(results, computation.sketch(), UsedParameters.of(job), null), directory);
                writeTiles(results, directory);
                ResultsWriter.write(
                        results, runJson(started, seconds), directory, pictures, options.threads(), context.progress());
                context.progress().checkCancelled();
                return results;
            });
            directory.publish();
            return results;
        }
    }

    private void draw(Results results, ResultsDirectory directory) {
        int curves = results.analyses().stream()
                .mapToInt(part -> part.curves().size())
                .sum();
        int fields = results.fields().all().size();
        try (Stage stage = context.progress().stage("drawing", (long) fields + curves, "pictures")) {
            for (Field field : results.fields().all()) {
                directory.add(
                        "maps/" + field.name().id() + ".svg",
                        MapSvg.of(field, results.map().outline()));
                stage.advance(1);
            }
            for (Results.AnalysisPart part : results.analyses()) {
                for (Curve curve : part.curves()) {
                    String name = "curves/" + part.id() + "." + curve.id();
                    directory.add(name + ".svg", CurveDrawing.svg(curve));
                    directory.add(name + ".png", file -> Files.write(file, CurveDrawing.png(curve)));
                    stage.advance(1);
                }
            }
        }
    }

    /** Writes the page unless it is not wanted. */
    void writeReport(PageContent content, ResultsDirectory directory) {
        if (!options.noReport) {
            try (Stage stage = context.progress().stage("writing the report", 1, "pages")) {
                directory.add("report.html", file -> ReportPage.write(file, content, options.threads()));
                stage.advance(1);
            }
        }
    }

    /** Writes the tiles as polygons when they were asked for. */
    void writeTiles(Results results, ResultsDirectory directory) {
        if (options.tilesGeoJson) {
            int rows = results.fields().grid().rows();
            try (Stage stage = context.progress().stage("writing tiles as polygons", rows, "rows")) {
                directory.add("tiles.geojson", file -> TilesGeoJson.write(file, results, stage));
            }
        }
    }

    private Results compute(Computation computation, Job job, List<Input> inputs) {
        List<FileHash> hashes = hash(inputs);
        return watched(() -> computation.run(job, hashes));
    }

    /** Begins to hash files. */
    List<FileHash> hash(List<Input> inputs) {
        return inputs.stream()
                .map(input -> FileHash.start(input.file(), input.name(), context.progress()))
                .toList();
    }

    /** Does work while its progress is shown. */
    <T> T watched(Supplier<T> work) {
        ProgressLine line = new ProgressLine(
                context.progress(), context.console().err(), context.console().live() && !options.quiet);
        try {
            return work.get();
        } finally {
            line.close();
        }
    }

    /** What may differ between two runs of the same job stands apart from the results. */
    String runJson(Instant started, double seconds) {
        return "{\n  \"started\": \"" + started.truncatedTo(ChronoUnit.SECONDS) + "\",\n  \"compute_seconds\": "
                + ShortDecimal.of(Math.rint(seconds * 1000) / 1000) + ",\n  \"threads\": " + options.threads()
                + ",\n  \"java\": \""
                + new String(JsonStringEncoder.getInstance()
                        .quoteAsString(Runtime.version().toString()))
                + "\"\n}\n";
    }
}
