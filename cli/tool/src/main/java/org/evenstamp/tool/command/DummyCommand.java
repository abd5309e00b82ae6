package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.function.ToDoubleFunction;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.DummyDesign;
import org.evenstamp.engine.design.DummyProposal;
import org.evenstamp.engine.design.WhatIf;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.file.ComparisonText;
import org.evenstamp.output.file.DummyText;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.output.page.WhatHelps;
import org.evenstamp.output.picture.PairPicture;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.tool.console.Console;
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
                    + " them (dummies.geojson), the layout with them (merged.geojson.gz, unless it is in layers: then they are one"
                    + " more layer) and the results of the changed stamp,"
                    + " and compares it with the stamp as it is.",
            "Without --out the results go beside those of a run, into <output.directory>-dummies."
        },
        footerHeading = "%nExamples:%n",
        footer = {
            "  evenstamp dummy first/job.yaml",
            "  evenstamp dummy first/job.yaml --what-if --out changed",
            "  evenstamp dummy first/job.yaml --levers --out plan"
        })
final class DummyCommand implements Callable<Integer> {
    private static final List<String> PICTURES =
            List.of("cavity.fraction", "cavity.volume", "residual.final", "fill.time", "release.tear");

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(
            names = "--what-if",
            description = "Compare also with shallower cavities and with large pads broken up, estimated on the tiles.")
    boolean whatIf;

    @Option(
            names = "--levers",
            description =
                    "Instead, make a plan of everything that could be changed, each solved alone and together: dummies,"
                            + " raised posts in cavities of the depth dummy.post-depth, a film that differs from tile to tile"
                            + " (film-map.csv), the depth of the cavities. What changes what features do is told and not drawn.")
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
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        Path out = options.out != null
                ? options.out
                : job.output().resolveSibling(job.output().getFileName() + "-dummies");
        if (levers) {
            return new LeverAnswer(context, options).give(job, out);
        }
        JobRunner runner = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            RunRecord started = RunRecord.start(options.threads());
            DummyProposal proposal =
                    runner.watched(() -> DummyDesign.of(job, directory, options.run(), context.progress()));
            Comparison comparison = runner.watched(() -> comparison(job, proposal));
            RunRecord run = started.end();
            runner.watched(() -> {
                write(job, proposal, comparison, run, directory);
                return true;
            });
            runner.publish(directory, out);
            if (options.json && !options.quiet) {
                context.console().out().print(DummyText.json(proposal, comparison));
            } else if (!options.quiet) {
                tell(job, proposal, comparison, out);
            }
            return options.exitCode(proposal.after());
        }
    }

    private Comparison comparison(Job job, DummyProposal proposal) {
        FieldSet before = proposal.before().fields();
        List<Comparison.Variant> variants = new ArrayList<>(List.of(
                new Comparison.Variant("before", before),
                new Comparison.Variant("dummies", proposal.after().fields())));
        if (whatIf) {
            variants.addAll(WhatIf.of(job, before, options.run(), context.progress()));
        }
        return new Comparison(variants, job.limits(), proposal.after().map().regions());
    }

    private void write(
            Job job, DummyProposal proposal, Comparison comparison, RunRecord run, ResultsDirectory directory) {
        JobRunner runner = new JobRunner(context, options);
        Results after = proposal.after();
        FieldSet before = proposal.before().fields();
        runner.writeReport(
                PageContent.of(job, after)
                        .beside(new PageContent.Other("before", before))
                        .with(WhatHelps.of(proposal, comparison)),
                directory);
        runner.writeTiles(after, directory);
        PairPicture picture = new PairPicture(after.map().outline());
        for (String id : PICTURES) {
            Field left = before.find(id).orElse(null);
            Field right = after.fields().find(id).orElse(null);
            if (left != null && right != null) {
                directory.add("comparison/" + id + ".png", path -> Files.write(path, picture.png(left, right)));
            }
        }
        directory.add("comparison.json", DummyText.json(proposal, comparison));
        ResultsWriter.write(after, run, directory, context.progress());
        context.progress().checkCancelled();
    }

    private void tell(Job job, DummyProposal proposal, Comparison comparison, Path out) {
        Console console = context.console();
        PrintWriter text = console.out();
        text.print(DummyText.rounds(proposal));
        text.println();
        text.print(ComparisonText.text(comparison));
        proposal.warnings()
                .forEach(warning -> text.println(console.in(TextStyle.CARE, "warning") + " " + warning.message()));
        List<Comparison.LimitChange> worse = comparison.limitChanges().stream()
                .filter(change -> change.fate().worse())
                .toList();
        if (!worse.isEmpty()) {
            text.println(console.in(TextStyle.BAD, "the dummies make " + worse.size() + " limit(s) worse:"));
            worse.forEach(change -> text.println("  " + ComparisonText.line(change)));
        }
        for (NamedRegion region : proposal.before().fields().regions()) {
            String where = region.isFeatures() ? "where features are" : "in " + PlainText.cut(region.name());
            tell(
                    where,
                    proposal,
                    fields -> AreaStatistics.of(ResidualLayer.of(fields).orElseThrow(), region)
                            .map(AreaStatistics::sigma3)
                            .orElse(0.0));
        }
        tell(
                "on the whole stamp",
                proposal,
                fields -> ResidualLayer.sigma3Metres(fields).orElse(0));
        if (!job.layout().isSingle()) {
            text.println("the dummies are one more layer: add {file: " + out.resolve(DummyDesign.DUMMIES)
                    + "} to layout.layers");
        }
        text.println("results: " + out);
        text.flush();
    }

    private void tell(String where, DummyProposal proposal, ToDoubleFunction<FieldSet> sigma3) {
        double before = sigma3.applyAsDouble(proposal.before().fields());
        double after = sigma3.applyAsDouble(proposal.after().fields());
        if (before > 0) {
            context.console()
                    .out()
                    .println(String.format(
                            Locale.ROOT,
                            "residual layer %s: 3 sigma %s by %.1f %%",
                            where,
                            after <= before ? "falls" : "RISES",
                            100 * Math.abs(1 - after / before)));
        }
    }
}
