package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.DummyChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobReader;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.file.Comparison;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.output.picture.PairPicture;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.field.Field;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code dummy JOB}: dummy features that even out the residual layer, proven by a second run. */
@Command(
        name = "dummy",
        description = {
            "Proposes dummy features that even out the residual layer, within the rules of the job's section dummy; writes"
                    + " them (dummies.geojson), the layout with them (merged.geojson.gz) and the results of the changed stamp,"
                    + " and compares it with the stamp as it is.",
            "Without --out the results go beside those of a run, into <output.directory>-dummies."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp dummy first/job.yaml", "  evenstamp dummy first/job.yaml --levers --out changed"})
final class DummyCommand implements Callable<Integer> {
    private static final List<String> PICTURES =
            List.of("cavity.fraction", "cavity.volume", "residual.final", "fill.time", "release.tear");

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(
            names = "--levers",
            description = "Compare also with shallower cavities and with large pads broken up, estimated on the tiles.")
    boolean levers;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    DummyCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        Job job = JobReader.read(jobFile, new Pipeline(context.analyses().apply(plugins.directories)));
        DummyChoice choice = DummyChoice.of(job);
        Path out = options.out != null
                ? options.out
                : job.output().resolveSibling(job.output().getFileName() + "-dummies");
        JobRunner delivery = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            Instant started = Instant.now();
            long begin = System.nanoTime();
            DummyRounds.Outcome outcome = delivery.watched(
                    () -> new DummyRounds(options.run(), context.progress(), job, choice, directory).run());
            Comparison comparison = delivery.watched(() -> comparison(job, outcome));
            double seconds = (System.nanoTime() - begin) * 1e-9;
            delivery.watched(() -> {
                delivery.writeReport(
                        new PageContent(
                                outcome.after(),
                                WrittenJob.of(job, outcome.after()),
                                new PageContent.Other("before", outcome.before().fields())),
                        directory);
                delivery.writeTiles(outcome.after(), directory);
                write(outcome, comparison, delivery.runJson(started, seconds), directory);
                return true;
            });
            delivery.publish(directory, out);
            if (options.json && !options.quiet) {
                context.console().out().print(outcome.report().json(comparison));
            } else if (!options.quiet) {
                tell(outcome, comparison, out);
            }
            return outcome.after().broken().isEmpty() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
        }
    }

    private Comparison comparison(Job job, DummyRounds.Outcome outcome) {
        List<Comparison.Variant> variants = new ArrayList<>();
        Comparison.Variant before =
                new Comparison.Variant("before", outcome.before().fields());
        variants.add(before);
        variants.add(new Comparison.Variant("dummies", outcome.after().fields()));
        if (levers) {
            for (Levers.Lever lever : Levers.of(Levers.measured(before))) {
                variants.add(new Comparison.Variant(
                        lever.name(),
                        job.planOn(lever.fields())
                                .run(lever.fields(), options.threads(), context.progress())
                                .fields()));
            }
        }
        return new Comparison(variants, job.limits(), outcome.after().map().regions());
    }

    private void write(DummyRounds.Outcome outcome, Comparison comparison, String runJson, ResultsDirectory directory) {
        Results after = outcome.after();
        PairPicture picture = new PairPicture(after.map().outline());
        for (String id : PICTURES) {
            Field left = outcome.before().fields().find(id).orElse(null);
            Field right = after.fields().find(id).orElse(null);
            if (left != null && right != null) {
                directory.add("comparison/" + id + ".png", path -> Files.write(path, picture.png(left, right)));
            }
        }
        directory.add("comparison.json", outcome.report().json(comparison));
        ResultsWriter.write(after, runJson, directory, options.threads(), context.progress());
        context.progress().checkCancelled();
    }

    private void tell(DummyRounds.Outcome outcome, Comparison comparison, Path out) {
        Console console = context.console();
        PrintWriter text = console.out();
        text.print(outcome.report().text());
        text.println();
        text.print(comparison.text());
        outcome.report()
                .warnings()
                .forEach(warning -> text.println(console.in(TextStyle.CARE, "warning") + " " + warning.message()));
        List<String> worse = comparison.worse();
        if (!worse.isEmpty()) {
            text.println(console.in(TextStyle.BAD, "the dummies make " + worse.size() + " limit(s) worse:"));
            worse.forEach(line -> text.println("  " + line));
        }
        double before = Comparison.residualSigma3(outcome.before().fields()).orElse(0);
        double after = Comparison.residualSigma3(outcome.after().fields()).orElse(0);
        if (before > 0) {
            text.println(String.format(
                    java.util.Locale.ROOT,
                    "residual layer: 3 sigma %s by %.1f %%",
                    after <= before ? "falls" : "RISES",
                    100 * Math.abs(1 - after / before)));
        }
        text.println("results: " + out);
        text.flush();
    }
}
