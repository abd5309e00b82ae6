package org.evenstamp.tool.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.FilmProvider;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.process.SafetyCautions;
import org.evenstamp.analysis.recipe.StartingRecipe;
import org.evenstamp.analysis.recipe.StartingRecipes;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobReader;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.tool.console.ProgressLine;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
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
    private static final String MELT = "ps-50k";
    private static final String LIQUID = "uv-acrylate";
    private static final int WORD = 16;
    private static final int MOST_SLOWER = 32;

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = CommonOptions.Count.class,
            description = "Number of threads, all processors by default. Does not change the results.")
    int threads = Runtime.getRuntime().availableProcessors();

    @Option(names = "--json", description = "Print JSON instead of the table.")
    boolean json;

    RecipeCommand(ToolContext context) {
        this.context = context;
    }

    /** A recipe and what the film solve says of it. */
    private record Solved(StartingRecipe recipe, Outcome outcome) {
        OptionalDouble figure(String id) {
            return outcome.results().get(0).result().figures().stream()
                    .filter(figure -> figure.id().equals(id))
                    .mapToDouble(Figure::valueSi)
                    .findFirst();
        }

        double[] field(String id) {
            return outcome.fields().find(id).map(Field::toArray).orElseThrow();
        }
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        Pipeline film = new Pipeline(List.of(FoundAnalysis.of(new FilmProvider(), "evenstamp")));
        JobReader.Base base = JobReader.base(jobFile, film);
        ProgressLine line = new ProgressLine(
                context.progress(), context.console().err(), context.console().live());
        List<Solved> solved = new ArrayList<>();
        FieldSet fields;
        double thickness;
        try {
            fields = Simulation.measure(base.job(), CommonOptions.run(threads), context.progress());
            thickness = fields.find(TileFields.FILM_COATED.id())
                    .map(Job::meanMetres)
                    .orElse(base.filmThickness());
            List<StartingRecipe> recipes = new StartingRecipes(
                            base.library(),
                            thickness,
                            fields.get(TileFields.CAVITY_VOLUME).toArray(),
                            fields.get(TileFields.CAVITY_FRACTION).toArray(),
                            fields.get(TileFields.SQUEEZE_MOMENT).toArray())
                    .of(film(base, true), film(base, false));
            for (StartingRecipe recipe : recipes) {
                solved.add(filling(jobFile, film, recipe, fields));
            }
        } finally {
            line.close();
        }
        if (json) {
            context.console().out().print(json(base, thickness, solved));
        } else {
            tell(base, fields, thickness, solved);
        }
        return ExitCode.WITHIN_LIMITS;
    }

    /** Slows a recipe down until every tile fills at some time, within a budget; the last one tried otherwise. */
    private Solved filling(Path jobFile, Pipeline film, StartingRecipe recipe, FieldSet fields) {
        Solved solved = solve(jobFile, film, recipe, fields);
        for (int times = 2; times <= MOST_SLOWER && solved.figure("filled.once").orElse(0) < 1; times *= 2) {
            solved = solve(jobFile, film, recipe.slower(times), fields);
        }
        return solved;
    }

    private Solved solve(Path jobFile, Pipeline film, StartingRecipe recipe, FieldSet fields) {
        Map<String, String> values = new HashMap<>(recipe.values());
        fields.find(TileFields.FILM_COATED.id())
                .ifPresent(map -> values.put(CommonParameters.FILM_THICKNESS.id(), Job.meanMetres(map) * 1e9 + " nm"));
        Job job = JobReader.variation(jobFile, film, values);
        return new Solved(recipe, job.plan().run(fields, threads, context.progress()));
    }

    private static Material film(JobReader.Base base, boolean melt) {
        MaterialLibrary library = base.library();
        return base.film()
                .filter(film -> StartingRecipes.isMelt(film) == melt)
                .orElseGet(() -> library.get(MaterialKind.FILM, melt ? MELT : LIQUID));
    }

    private static String json(JobReader.Base base, double thickness, List<Solved> solved) {
        return AnswerJson.write(json -> json.text("name", base.job().name())
                .number("film_thickness_nm", thickness * 1e9)
                .list("recipes", list -> {
                    for (Solved one : solved) {
                        list.item(item -> recipe(item, one));
                    }
                }));
    }

    private static void recipe(JsonText json, Solved one) throws IOException {
        double[] residual = one.field(ImprintFields.RESIDUAL_FINAL.id());
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
        json.number("residual_min_nm", Arrays.stream(residual).min().orElse(0) * 1e9)
                .number("residual_max_nm", Arrays.stream(residual).max().orElse(0) * 1e9);
        json.list("figures", list -> {
            for (Figure figure : one.outcome().results().get(0).result().figures()) {
                list.item(item -> item.text("id", figure.id())
                        .number("value", figure.unit().fromSi(figure.valueSi()))
                        .text("unit", figure.unit().symbol())
                        .text("meaning", figure.meaning()));
            }
        });
        json.list("warnings", list -> {
            for (Finding.Warning warning : one.outcome().warnings()) {
                list.item(item -> item.text("code", warning.code()).text("message", warning.message()));
            }
        });
        json.list("cautions", list -> {
            for (String caution : SafetyCautions.of(one.recipe().kind(), false)) {
                list.item(caution);
            }
        });
    }

    private void tell(JobReader.Base base, FieldSet fields, double thickness, List<Solved> solved) {
        PrintWriter out = context.console().out();
        var grid = fields.grid();
        double area = grid.pitchMetres() * grid.pitchMetres() * grid.size();
        out.println(context.console()
                        .in(
                                TextStyle.STRONG,
                                "starting recipes for " + base.job().name()) + "  "
                + number("%.3g nm of film, ", thickness * 1e9)
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
        row("pressure", each(solved, one -> figure(one, "process.pressure-peak", 1e-6, "MPa")));
        row("force", each(solved, one -> force(one, area)));
        row("viscosity, least", each(solved, one -> figure(one, "process.viscosity-least", 1, "Pa s")));
        row("tiles that fill", each(solved, one -> figure(one, "filled.once", 100, "%")));
        row("tiles full at the end", each(solved, one -> figure(one, "filled", 100, "%")));
        row("residual layer", each(solved, RecipeCommand::range));
        row("residual, range", each(solved, one -> figure(one, "residual.range", 1e9, "nm")));
        row("thermal mismatch", each(solved, one -> figure(one, "process.mismatch", 100, "%")));
        row("shrinkage", each(solved, one -> figure(one, "process.shrinkage", 100, "%")));
        for (Solved one : solved) {
            out.println();
            out.println(context.console().in(TextStyle.STRONG, one.recipe().kind()));
            one.recipe().reasons().forEach(reason -> out.println("  " + reason));
            one.outcome().warnings().stream()
                    .filter(warning -> warning.code().startsWith("process.")
                            || warning.code().startsWith("rheology.")
                            || warning.code().equals("film.incomplete")
                            || warning.code().equals("film.thinning"))
                    .forEach(warning -> out.println("  warning: " + warning.message()));
            SafetyCautions.of(one.recipe().kind(), false).stream()
                    .limit(2)
                    .forEach(caution -> out.println("  take care: " + caution));
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

    /** Mean pressure times area; a roller presses with its line force over the width it has, which the job does not say. */
    private static String force(Solved one, double area) {
        String line = one.recipe().values().get("process.line-force");
        return line != null
                ? line
                : number("%.3g N", one.figure("process.pressure-peak").orElse(0) * area);
    }

    private static String range(Solved one) {
        double[] residual = one.field(ImprintFields.RESIDUAL_FINAL.id());
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
