package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.engine.design.FilmDesign;
import org.evenstamp.engine.design.FilmProposal;
import org.evenstamp.engine.job.Job;
import org.evenstamp.output.file.AnswerJson;
import org.evenstamp.output.file.ComparisonText;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code film JOB}: finds the film thickness that leaves a wanted residual layer, and compares it with thinner and thicker films. */
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
        Job job = Job.read(Objects.requireNonNull(file), context.pipeline(plugins.directories));
        FilmProposal film =
                context.watched(true, () -> FilmDesign.of(job, fine, CommonOptions.run(threads), context.progress()));
        if (json) {
            context.console().out().print(json(film));
        } else {
            tell(film);
        }
        return ExitCode.WITHIN_LIMITS;
    }

    private static String json(FilmProposal film) {
        return AnswerJson.write(document -> {
            document.number("target_residual_nm", film.targetMetres() * 1e9)
                    .number("film_thickness_nm", film.thicknessMetres() * 1e9)
                    .number("cavity_volume_mean_nm", film.volume().meanMetres() * 1e9)
                    .number("cavity_volume_max_nm", film.volume().mostMetres() * 1e9)
                    .number(
                            "unfilled_tiles",
                            film.reached().unfilled().map(Unfilled::tiles).orElse(0))
                    .number("tile_side_um", film.tileSideMetres() * 1e6);
            if (Double.isFinite(film.reached().residualMetres())) {
                document.number("residual_mean_nm", film.reached().residualMetres() * 1e9);
            }
            ComparisonText.tableJson(film.comparison(), document);
        });
    }

    private void tell(FilmProposal film) {
        PrintWriter out = context.console().out();
        FilmProposal.Volume volume = film.volume();
        out.println(format(
                "a mean residual layer of %.4g nm needs a film of %.4g nm: the cavities hold %.4g nm on average",
                film.targetMetres() * 1e9, film.thicknessMetres() * 1e9, volume.meanMetres() * 1e9));
        out.println(format(
                "a rigid stamp would leave %.4g nm everywhere, one that yields to everything %.4g nm in the emptiest and"
                        + " %.4g nm in the fullest tile",
                film.targetMetres() * 1e9,
                (film.thicknessMetres() - volume.leastMetres()) * 1e9,
                Math.max(0, film.thicknessMetres() - volume.mostMetres()) * 1e9));
        if (film.thicknessMetres() < volume.mostMetres()) {
            out.println(format(
                    "warning: the fullest tile holds %.4g nm and fills only if film flows to it; from a residual layer of"
                            + " %.4g nm on (a film of %.4g nm) every tile has enough of its own",
                    volume.mostMetres() * 1e9,
                    (volume.mostMetres() - volume.meanMetres()) * 1e9,
                    volume.mostMetres() * 1e9));
        }
        film.reached()
                .unfilled()
                .ifPresent(open -> out.println(format(
                        "warning: it does not reach the target: %s; the film that does not go into them stays below, %.4g nm in the"
                                + " mean, %.4g nm more than asked for",
                        open.sentence(),
                        film.reached().residualMetres() * 1e9,
                        (film.reached().residualMetres() - film.targetMetres()) * 1e9)));
        out.println();
        out.print(ComparisonText.table(film.comparison()));
        out.println("* the film asked for; "
                + (film.coarse()
                        ? format(
                                "tiles of %.4g um, coarser than the job's: compare, then run the job",
                                film.tileSideMetres() * 1e6)
                        : "tiles of the job"));
        out.flush();
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
