package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.LeverDesign;
import org.evenstamp.engine.design.LeverPlan;
import org.evenstamp.engine.design.LeverPlan.Kind;
import org.evenstamp.engine.job.Job;
import org.evenstamp.output.file.ComparisonText;
import org.evenstamp.output.file.PlanText;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.tool.console.Console;

/** What {@code dummy --levers} does: a plan of all levers, its files, and the stamp with what was drawn. */
final class LeverAnswer {
    private static final double SOME = 1e-3; // of three sigma; a smaller rise is none

    private final ToolContext context;
    private final CommonOptions options;

    LeverAnswer(ToolContext context, CommonOptions options) {
        this.context = context;
        this.options = options;
    }

    int give(Job job, Path out) {
        JobRunner runner = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            RunRecord started = RunRecord.start(options.threads());
            LeverPlan plan = runner.watched(() -> LeverDesign.of(job, directory, options.run(), context.progress()));
            RunRecord run = started.end();
            Comparison comparison = comparison(job, plan);
            runner.watched(() -> {
                PageContent page = PageContent.of(job, plan.after());
                runner.writeReport(
                        page.beside(
                                new PageContent.Other("before", plan.before().fields())),
                        directory);
                runner.writeTiles(plan.after(), directory);
                directory.add("plan.json", PlanText.json(plan, comparison));
                ResultsWriter.write(plan.after(), run, directory, context.progress());
                context.progress().checkCancelled();
                return true;
            });
            runner.publish(directory, out);
            if (!options.quiet) {
                tell(plan, comparison, out);
            }
            return options.exitCode(plan.after());
        }
    }

    private static Comparison comparison(Job job, LeverPlan plan) {
        List<Comparison.Variant> variants = new ArrayList<>(List.of(
                new Comparison.Variant("before", plan.before().fields()),
                new Comparison.Variant("drawn", plan.after().fields())));
        if (plan.levers().stream().anyMatch(lever -> lever.kind() == Kind.FILM)) {
            variants.add(new Comparison.Variant("and film map", plan.onFilm()));
        }
        return new Comparison(variants, job.limits(), plan.after().map().regions());
    }

    private void tell(LeverPlan plan, Comparison comparison, Path out) {
        Console console = context.console();
        PrintWriter text = console.out();
        if (options.json) {
            text.print(PlanText.json(plan, comparison));
            text.flush();
            return;
        }
        text.print(PlanText.text(plan));
        text.println();
        text.print(ComparisonText.text(comparison));
        for (Comparison.Row row : comparison.rows()) {
            double was = row.values().get(0).orElse(0);
            double is = row.values().get(1).orElse(0);
            if (row.what().startsWith("residual 3 sigma") && is > was * (1 + SOME)) {
                text.println(console.in(TextStyle.BAD, "worse with what is drawn") + ": " + row.what());
            }
        }
        plan.warnings()
                .forEach(warning -> text.println(console.in(TextStyle.CARE, "warning") + " " + warning.message()));
        plan.levers().stream()
                .filter(lever -> lever.kind() == Kind.DRAWN)
                .forEach(lever -> text.println(lever.name() + ": one more layer, add {file: "
                        + out.resolve(lever.file()) + "} to layout.layers"));
        plan.levers().stream()
                .filter(lever -> lever.kind() == Kind.FILM)
                .forEach(lever -> text.println(
                        "film map: film.thickness-map: " + out.resolve(lever.file()) + " in place of film.thickness"));
        text.println("results: " + out);
        text.flush();
    }
}
