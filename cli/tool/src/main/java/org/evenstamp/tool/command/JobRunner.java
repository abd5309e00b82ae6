package org.evenstamp.tool.command;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Supplier;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.run.StageMemory;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.file.TilesGeoJson;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.output.page.ReportPage;
import org.evenstamp.output.picture.CurveDrawing;
import org.evenstamp.output.picture.MapSvg;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.tool.console.Summary;
import org.jspecify.annotations.Nullable;

/** Computes a job, puts the results where they belong and tells the user. */
final class JobRunner {
    private final ToolContext context;
    private final CommonOptions options;
    private final StageMemory stages;
    private final StageMemory pictures;
    private DrawingOptions drawings = new DrawingOptions();
    private @Nullable Supplier<Results.MeasuredLayout> measuring;

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

    /** Also writes these drawings of results; returns this. */
    JobRunner drawing(DrawingOptions wanted) {
        drawings = wanted;
        return this;
    }

    /** Lets others measure the layout; returns this. */
    JobRunner measuring(Supplier<Results.MeasuredLayout> others) {
        measuring = others;
        return this;
    }

    /**
     * Runs it.
     *
     * @param out directory for the results; null to write none
     * @return the exit code
     */
    int run(Job job, @Nullable Path out) {
        Results results =
                out == null ? compute(job, options.run().withSketch(false).withHashes(options.json)) : write(job, out);
        if (!options.quiet) {
            context.console()
                    .out()
                    .print(
                            options.json
                                    ? ResultJson.write(results)
                                    : Summary.of(results, out == null ? null : out.toString(), context.console()));
            context.console().out().flush();
        }
        return options.exitCode(results);
    }

    private Results compute(Job job, RunOptions how) {
        Supplier<Results.MeasuredLayout> others = measuring;
        return watched(() -> others == null
                ? Simulation.run(job, how, stages, context.progress())
                : Simulation.run(job, how, others, context.progress()));
    }

    /** Computes a job, puts the results where they belong and tells nothing. */
    Results write(Job job, Path out) {
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            RunRecord started = RunRecord.start(options.threads());
            Results results = compute(job, options.run());
            RunRecord run = started.end();
            watched(() -> {
                if (options.pictures) {
                    draw(results, directory);
                }
                writeReport(PageContent.of(job, results), directory);
                writeTiles(results, directory);
                drawings.write(job, results, directory, context.progress());
                ResultsWriter.write(results, run, directory, pictures, context.progress());
                context.progress().checkCancelled();
                return results;
            });
            publish(directory, out);
            return results;
        }
    }

    /** Puts results in their place and names what stays there although it is not ours. */
    void publish(ResultsDirectory directory, Path out) {
        directory.publish();
        if (!options.quiet) {
            directory
                    .kept()
                    .forEach(name -> context.console()
                            .err()
                            .println("note: " + out.resolve(name) + " stays: evenstamp did not write it"));
            context.console().err().flush();
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

    /** Does work while its progress is shown. */
    <T> T watched(Supplier<T> work) {
        return context.watched(!options.quiet, work);
    }
}
