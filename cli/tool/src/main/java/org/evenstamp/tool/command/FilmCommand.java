package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.FilmChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobReader;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.Comparison;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code film JOB}: the film that leaves a wanted residual layer, and what its neighbours cost. */
@Command(
        name = "film",
        description = {
            "Finds the initial film thickness for the mean residual layer film.target-residual: film is conserved, so it is"
                    + " the target and the mean cavity volume. Then computes the job with that film and with thinner and"
                    + " thicker ones, on tiles twice as wide unless --fine is given, and prints what each costs."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp film first/job.yaml", "  evenstamp film first/job.yaml --fine --json"})
final class FilmCommand implements Callable<Integer> {
    private static final double[] SHARES = {0.8, 0.9, 1, 1.1, 1.25};
    private static final double COARSER = 2;
    private static final int LEAST_TILES = 16;

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Option(names = "--fine", description = "Solve on the tiles of the job instead of tiles twice as wide.")
    boolean fine;

    @Option(names = "--json", description = "Print JSON instead of the table.")
    boolean json;

    @Option(
            names = "--threads",
            paramLabel = "N",
            converter = CommonOptions.Count.class,
            description = "Number of threads, all processors by default. Does not change the results.")
    @Nullable
    Integer threads;

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    FilmCommand(ToolContext context) {
        this.context = context;
    }

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        Pipeline pipeline = new Pipeline(context.analyses().apply(plugins.directories));
        Job job = JobReader.read(jobFile, pipeline);
        OptionalDouble target = job.settings().find(FilmChoice.TARGET.id());
        if (target.isEmpty()) {
            throw new InputException(
                    "job.missing-key",
                    jobFile.toString(),
                    "the job does not set " + FilmChoice.TARGET.id() + ": " + FilmChoice.TARGET.meaning(),
                    "add it to the section film, such as \"50 nm\"");
        }
        Job.Coating film = job.film();
        if (film != null) {
            throw new InputException(
                    "film.map-given",
                    jobFile.toString(),
                    "the job gives its film place by place in " + film.map().asWritten()
                            + ", and this verb looks for one thickness",
                    "give " + CommonParameters.FILM_THICKNESS.id() + " instead of the map");
        }
        RunOptions how = CommonOptions.run(threads).withHashes(false);
        Results map = Simulation.run(job.measuring(), how, context.progress());
        double pitch = map.fields().grid().pitchMetres();
        int smaller =
                Math.min(map.fields().grid().columns(), map.fields().grid().rows());
        boolean coarse = !fine && smaller >= COARSER * LEAST_TILES;
        if (coarse) {
            map = Simulation.run(job.measuring().on(job.layout(), COARSER * pitch), how, context.progress());
        }
        Field volume = map.fields().get(TileFields.CAVITY_VOLUME);
        double mean = volume.name().unit().toSi(FieldStatistics.of(volume).mean());
        double deepest = volume.name().unit().toSi(FieldStatistics.of(volume).max());
        double wanted = target.getAsDouble() + mean;
        List<Comparison.Variant> variants = new ArrayList<>();
        for (double share : SHARES) {
            double thickness = share * wanted;
            if (thickness > mean) {
                Job other = JobReader.read(jobFile, pipeline, Map.of(CommonParameters.FILM_THICKNESS.id(), thickness));
                variants.add(new Comparison.Variant(
                        String.format(Locale.ROOT, "%s%.4g nm", share == 1 ? "* " : "", thickness * 1e9),
                        other.plan()
                                .run(map.fields(), how.threads(), context.progress())
                                .fields()));
            }
        }
        Comparison comparison = new Comparison(variants, job.limits(), List.of());
        PrintWriter out = context.console().out();
        if (json) {
            double side = map.fields().grid().pitchMetres();
            out.print(AnswerJson.write(document -> {
                document.number("target_residual_nm", target.getAsDouble() * 1e9)
                        .number("film_thickness_nm", wanted * 1e9)
                        .number("cavity_volume_mean_nm", mean * 1e9)
                        .number("cavity_volume_max_nm", deepest * 1e9)
                        .number("tile_side_um", side * 1e6);
                comparison.tableJson(document);
            }));
            return ExitCode.WITHIN_LIMITS;
        }
        out.println(String.format(
                Locale.ROOT,
                "a mean residual layer of %.4g nm needs a film of %.4g nm: the cavities hold %.4g nm on average",
                target.getAsDouble() * 1e9,
                wanted * 1e9,
                mean * 1e9));
        out.println(String.format(
                Locale.ROOT,
                "a rigid stamp would leave %.4g nm everywhere, one that yields to everything %.4g nm in the emptiest and"
                        + " %.4g nm in the fullest tile",
                target.getAsDouble() * 1e9,
                (wanted
                                - FieldStatistics.of(volume).min()
                                        * volume.name().unit().toSi(1))
                        * 1e9,
                Math.max(0, wanted - deepest) * 1e9));
        if (wanted < deepest) {
            out.println(String.format(
                    Locale.ROOT,
                    "warning: the fullest tile holds %.4g nm and fills only if film flows to it; from a residual layer of"
                            + " %.4g nm on (a film of %.4g nm) every tile has enough of its own",
                    deepest * 1e9,
                    (deepest - mean) * 1e9,
                    deepest * 1e9));
        }
        out.println();
        out.print(comparison.table());
        out.println("* the film asked for; "
                + (coarse
                        ? "tiles of " + String.format(Locale.ROOT, "%.4g", COARSER * pitch * 1e6)
                                + " um, coarser than the job's: compare, then run the job"
                        : "tiles of the job"));
        out.flush();
        return ExitCode.WITHIN_LIMITS;
    }
}
