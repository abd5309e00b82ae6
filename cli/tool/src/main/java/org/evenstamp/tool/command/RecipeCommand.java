package org.evenstamp.tool.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.engine.design.RecipeDesign;
import org.evenstamp.engine.design.RecipeProposal;
import org.evenstamp.engine.design.RecipeProposal.Solved;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobText;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code recipe JOB}: a first recipe of each kind of process for the job's layout, solved and compared. */
@Command(
        name = "recipe",
        description = {
            "Proposes a first recipe of each kind of process for the layout, film thickness and stamp of a job, solves the"
                    + " film for each and compares them. Writes nothing.",
            "The job's film serves the kinds it fits; the others take a film of the library."
        },
        footerHeading = "%nExample:%n",
        footer = "  evenstamp recipe first/job.yaml")
final class RecipeCommand implements Callable<Integer> {
    private static final int WORD = 16;

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = CommonOptions.Count.class,
            description = "Number of threads, all processors by default. Does not change the results.")
    @Nullable
    Integer threads;

    @Option(names = "--json", description = "Print JSON instead of the table.")
    boolean json;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    RecipeCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        JobText text = JobText.read(Objects.requireNonNull(file));
        // A recipe is looked for: the job need not have one that its limits could be checked on.
        Job job = Job.of(text.without("limits"), context.pipeline(plugins.directories));
        RecipeProposal proposal =
                context.watched(true, () -> RecipeDesign.of(job, CommonOptions.run(threads), context.progress()));
        if (json) {
            context.console().out().print(json(job, proposal));
        } else {
            tell(job, proposal);
        }
        return ExitCode.WITHIN_LIMITS;
    }

    private static String json(Job job, RecipeProposal proposal) {
        return AnswerJson.write(json -> json.text("name", job.name())
                .number("film_thickness_nm", proposal.filmMetres() * 1e9)
                .list("recipes", list -> {
                    for (Solved one : proposal.recipes()) {
                        list.item(item -> recipe(item, one));
                    }
                }));
    }

    private static void recipe(JsonText json, Solved one) throws IOException {
        double[] residual = one.field(ImprintFields.RESIDUAL_FINAL.id()).toArray();
        json.text("kind", one.recipe().kind());
        json.group("values", group -> {
            for (var value : one.recipe().values().entrySet()) {
                group.text(value.getKey(), value.getValue());
            }
        });
        json.list("reasons", list -> {
            for (String reason : one.recipe().reasons()) {
                list.item(reason);
            }
        });
        json.number("unfilled_tiles", one.unfilled().map(Unfilled::tiles).orElse(0))
                .number(
                        "least_fill_share",
                        one.unfilled().map(Unfilled::leastShare).orElse(1.0));
        json.number("residual_min_nm", Arrays.stream(residual).min().orElse(0) * 1e9)
                .number("residual_max_nm", Arrays.stream(residual).max().orElse(0) * 1e9);
        json.list("figures", list -> {
            for (Figure figure : one.figures()) {
                list.item(item -> item.text("id", figure.id())
                        .number("value", figure.unit().fromSi(figure.valueSi()))
                        .text("unit", figure.unit().symbol())
                        .text("meaning", figure.meaning()));
            }
        });
        json.list("warnings", list -> {
            for (Finding.Warning warning : one.warnings()) {
                list.item(item -> item.text("code", warning.code()).text("message", warning.message()));
            }
        });
        json.list("cautions", list -> {
            for (String caution : SafetyCautions.of(one.recipe().kind(), false)) {
                list.item(caution);
            }
        });
    }

    private void tell(Job job, RecipeProposal proposal) {
        PrintWriter out = context.console().out();
        List<Solved> solved = proposal.recipes();
        var grid = proposal.tiles().grid();
        double area = grid.pitchMetres() * grid.pitchMetres() * grid.size();
        out.println(context.console().in(TextStyle.STRONG, "starting recipes for " + job.name()) + "  "
                + number("%.3g nm of film, ", proposal.filmMetres() * 1e9)
                + number("%.3g mm^2 of stamp", area * 1e6));
        out.println();
        Set<String> keys = new LinkedHashSet<>();
        solved.forEach(one -> keys.addAll(one.recipe().values().keySet()));
        for (String key : keys) {
            row(
                    key,
                    solved.stream()
                            .map(one -> one.recipe().values().getOrDefault(key, "-"))
                            .toList());
        }
        out.println();
        row("whole process", each(solved, one -> figure(one, "process.duration", 1, "s")));
        row("pressure", each(solved, one -> pressed(one)));
        row("pressure in the nip", each(solved, one -> figure(one, "pressure.nip-mean", 1e-6, "MPa mean")));
        row("", each(solved, one -> figure(one, "pressure.nip-peak", 1e-6, "MPa peak")));
        row("force", each(solved, one -> force(one, area)));
        row("viscosity, least", each(solved, one -> figure(one, "process.viscosity-least", 1, "Pa s")));
        row("tiles full when it sets", each(solved, one -> figure(one, "filled", 100, "%")));
        row(
                "emptiest tile",
                each(
                        solved,
                        one -> number(
                                "%.4g %% full",
                                100 * one.unfilled().map(Unfilled::leastShare).orElse(1.0))));
        row("residual layer", each(solved, RecipeCommand::range));
        row("residual, range", each(solved, one -> figure(one, "residual.range", 1e9, "nm")));
        row("thermal mismatch", each(solved, one -> figure(one, "process.mismatch", 100, "%")));
        row("shrinkage", each(solved, one -> figure(one, "process.shrinkage", 100, "%")));
        for (Solved one : solved) {
            out.println();
            out.println(context.console().in(TextStyle.STRONG, one.recipe().kind()));
            one.recipe().reasons().forEach(reason -> out.println("  " + reason));
            one.warnings().stream()
                    .filter(warning -> warning.code().startsWith("process.")
                            || warning.code().startsWith("rheology.")
                            || warning.code().startsWith("film.unfilled")
                            || warning.code().equals(Unfilled.INCOMPLETE)
                            || warning.code().equals("film.thinning"))
                    .forEach(warning -> out.println("  warning: " + warning.message()));
            List<String> cautions = SafetyCautions.of(one.recipe().kind(), false);
            cautions.subList(0, cautions.size() - 1).forEach(caution -> out.println("  take care: " + caution));
        }
        out.println();
        List<String> common = SafetyCautions.of("hold", false);
        out.println(common.get(common.size() - 1));
    }

    private static List<String> each(List<Solved> solved, java.util.function.Function<Solved, String> text) {
        return solved.stream().map(text).toList();
    }

    private static String figure(Solved one, String id, double scale, String unit) {
        OptionalDouble value = one.figure(id);
        return value.isEmpty() ? "-" : number("%.3g ", scale * value.getAsDouble()) + unit;
    }

    /** A press has one pressure; that of a nip stands in rows of its own. */
    private static String pressed(Solved one) {
        return one.figure("pressure.nip-mean").isPresent() ? "-" : figure(one, "process.pressure-peak", 1e-6, "MPa");
    }

    /** Mean pressure times area; a roller presses with its line force over the width it has, which the job does not say. */
    private static String force(Solved one, double area) {
        String line = one.recipe().values().get("process.line-force");
        return line != null
                ? line
                : number("%.3g N", one.figure("process.pressure-peak").orElse(0) * area);
    }

    private static String range(Solved one) {
        double[] residual = one.field(ImprintFields.RESIDUAL_FINAL.id()).toArray();
        return number("%.3g", Arrays.stream(residual).min().orElse(0) * 1e9)
                + number("..%.3g nm", Arrays.stream(residual).max().orElse(0) * 1e9);
    }

    private static String number(String format, double value) {
        return String.format(Locale.ROOT, format, value + 0.0); // no minus before a zero
    }

    private void row(String name, List<String> cells) {
        StringBuilder text = new StringBuilder(String.format(Locale.ROOT, "%-26s", name));
        cells.forEach(cell -> text.append(String.format(Locale.ROOT, "%-" + WORD + "s", cell)));
        context.console().out().println(text.toString().stripTrailing());
    }
}
