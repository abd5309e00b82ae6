package org.evenstamp.cli.command;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.Supplier;
import org.evenstamp.cli.console.ProgressLine;
import org.evenstamp.cli.console.Summary;
import org.evenstamp.cli.exit.ExitCode;
import org.evenstamp.cli.job.Job;
import org.evenstamp.cli.page.PageContent;
import org.evenstamp.cli.page.ReportPage;
import org.evenstamp.cli.report.CurveDrawing;
import org.evenstamp.cli.report.MapSvg;
import org.evenstamp.cli.report.ResultJson;
import org.evenstamp.cli.report.Results;
import org.evenstamp.cli.report.ResultsDirectory;
import org.evenstamp.cli.report.ResultsWriter;
import org.evenstamp.cli.report.ShortDecimal;
import org.evenstamp.cli.report.TilesGeoJson;
import org.evenstamp.cli.watch.Recall;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Curve;
import org.jspecify.annotations.Nullable;

/** Computes a job, puts the results where they belong and tells the user. */
final class Delivery {
    private final Surroundings surroundings;
    private final CommonOptions options;
    private final Recall stages;
    private final Recall pictures;

    Delivery(Surroundings surroundings, CommonOptions options) {
        this(surroundings, options, new Recall(0), new Recall(0));
    }

    /** A delivery that remembers the stages of its computations, and pictures. */
    Delivery(Surroundings surroundings, CommonOptions options, Recall stages, Recall pictures) {
        this.surroundings = surroundings;
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
            surroundings
                    .console()
                    .out()
                    .print(
                            options.json
                                    ? ResultJson.write(results)
                                    : Summary.of(results, out == null ? null : out.toString(), surroundings.console()));
            surroundings.console().out().flush();
        }
        return results.broken().isEmpty() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
    }

    private Computation computation(boolean sketching) {
        return new Computation(surroundings, options.threads(), sketching, stages);
    }

    /** Computes a job, puts the results where they belong and tells nothing. */
    Results write(Job job, List<Input> inputs, Path out) {
        Computation computation = computation(!options.noReport);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            surroundings.interruption().cleanUpWith(directory::close);
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
                        results,
                        runJson(started, seconds),
                        directory,
                        pictures,
                        options.threads(),
                        surroundings.progress());
                surroundings.progress().checkCancelled();
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
        try (Stage stage = surroundings.progress().stage("drawing", (long) fields + curves, "pictures")) {
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
            try (Stage stage = surroundings.progress().stage("writing the report", 1, "pages")) {
                directory.add("report.html", file -> ReportPage.write(file, content, options.threads()));
                stage.advance(1);
            }
        }
    }

    /** Writes the tiles as polygons when they were asked for. */
    void writeTiles(Results results, ResultsDirectory directory) {
        if (options.tilesGeoJson) {
            int rows = results.fields().grid().rows();
            try (Stage stage = surroundings.progress().stage("writing tiles as polygons", rows, "rows")) {
                directory.add("tiles.geojson", file -> TilesGeoJson.write(file, results, stage));
            }
        }
    }

    private Results compute(Computation computation, Job job, List<Input> inputs) {
        List<Hashing> hashes = hash(inputs);
        return watched(() -> computation.run(job, hashes));
    }

    /** Begins to hash files. */
    List<Hashing> hash(List<Input> inputs) {
        return inputs.stream()
                .map(input -> Hashing.start(input.file(), input.name(), surroundings.progress()))
                .toList();
    }

    /** Does work while its progress is shown. */
    <T> T watched(Supplier<T> work) {
        ProgressLine line = new ProgressLine(
                surroundings.progress(),
                surroundings.console().err(),
                surroundings.console().live() && !options.quiet);
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
