package org.evenstamp.tool.command;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.drops.DropMap;
import org.evenstamp.analysis.drops.DropSpreading;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.DropChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobReader;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.output.file.DropFiles;
import org.evenstamp.output.file.ResultJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.page.PageContent;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.tool.exit.ExitCode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code drops JOB}: where to put how many drops of a dispensed film. */
@Command(
        name = "drops",
        description = {
            "Places drops of the volume and on the raster that the job's section drops states, so that cavities are filled and"
                    + " the wanted residual layer is left everywhere; writes drops.csv, drops.geojson and maps.",
            "Without --out the results go beside those of a run, into <output.directory>-drops."
        },
        footerHeading = "%nExamples:%n",
        footer = {"  evenstamp drops first/job.yaml", "  evenstamp drops first/job.yaml --out dropped"})
final class DropsCommand implements Callable<Integer> {
    private static final FieldName NEED =
            FieldName.of("drop.need", "nm", "film that the tile needs over its area: cavities and residual layer");
    private static final FieldName GIVEN =
            FieldName.of("drop.given", "nm", "film that the tile's drops leave over its area, after evaporation");
    private static final FieldName COUNT = FieldName.of("drop.count", "1", "number of drops in the tile");
    private static final FieldName TIME =
            FieldName.of("drop.time", "s", "time in which the tile's drops spread until they meet, at least");
    private static final long MOST_SITES = 200_000_000;

    private final ToolContext context;

    @Parameters(paramLabel = "JOB", description = "The job file, YAML or JSON.")
    @Nullable
    Path file;

    @Mixin
    CommonOptions options = new CommonOptions();

    @Mixin
    CommonOptions.Plugins plugins = new CommonOptions.Plugins();

    DropsCommand(ToolContext context) {
        this.context = context;
    }

    private record Drops(Results results, DropFiles files, double slowestSeconds) {}

    @Override
    public Integer call() {
        Path jobFile = Objects.requireNonNull(file);
        Job job = JobReader.read(jobFile, new Pipeline(context.analyses().apply(plugins.directories)));
        DropChoice choice = DropChoice.of(job);
        Path out = options.out != null
                ? options.out
                : job.output().resolveSibling(job.output().getFileName() + "-drops");
        JobRunner delivery = new JobRunner(context, options);
        try (ResultsDirectory directory = ResultsDirectory.open(out, options.replace)) {
            context.interruption().cleanUpWith(directory::close);
            Instant started = Instant.now();
            long begin = System.nanoTime();
            Drops drops = delivery.watched(() -> place(job, choice));
            double seconds = (System.nanoTime() - begin) * 1e-9;
            directory.add("drops.csv", drops.files()::csv);
            directory.add("drops.geojson", drops.files()::geoJson);
            delivery.watched(() -> {
                delivery.writeReport(
                        new PageContent(drops.results(), WrittenJob.of(job.measuring(), drops.results()), null),
                        directory);
                delivery.writeTiles(drops.results(), directory);
                ResultsWriter.write(
                        drops.results(),
                        delivery.runJson(started, seconds),
                        directory,
                        options.threads(),
                        context.progress());
                context.progress().checkCancelled();
                return true;
            });
            delivery.publish(directory, out);
            if (options.json && !options.quiet) {
                context.console().out().print(ResultJson.write(drops.results()));
            } else if (!options.quiet) {
                tell(drops, choice, out);
            }
            return drops.results().broken().isEmpty() ? ExitCode.WITHIN_LIMITS : ExitCode.LIMIT_EXCEEDED;
        }
    }

    private Drops place(Job job, DropChoice choice) {
        Results map = Simulation.run(job.measuring(), options.run(), context.progress());
        TileGrid grid = map.fields().grid();
        MapOptions.Outline outline = map.map().outline();
        Field volume = map.fields().get(TileFields.CAVITY_VOLUME);
        double pitch = choice.pitchMetres();
        double sitesX = Math.rint(outline.width() / pitch);
        double sitesY = Math.rint(outline.height() / pitch);
        if (sitesX < 1 || sitesY < 1 || sitesX * sitesY > MOST_SITES) {
            double least = Math.sqrt(outline.width() * outline.height() / MOST_SITES);
            throw new InputException(
                    "drops.pitch",
                    "drops.pitch",
                    String.format(Locale.ROOT, "a raster of %.0f x %.0f sites is not possible", sitesX, sitesY),
                    String.format(
                            Locale.ROOT,
                            "a pitch from %.4g to %.4g um",
                            least * 1e6,
                            Math.min(outline.width(), outline.height()) * 1e6));
        }
        double siteArea = outline.width() / sitesX * (outline.height() / sitesY);
        double left = choice.dropCubicMetres() * (1 - choice.evaporation());
        double firstX = outline.minX() + (outline.width() - (sitesX - 1) * pitch) / 2;
        double firstY = outline.minY() + (outline.height() - (sitesY - 1) * pitch) / 2;
        int[] tileOf = new int[2];
        DropMap drops = DropMap.of((int) sitesX, (int) sitesY, (column, row) -> {
            tile(grid, firstX + column * pitch, firstY + row * pitch, tileOf);
            return (volume.at(tileOf[0], tileOf[1]) + choice.residualMetres()) * siteArea / left;
        });
        double[] count = new double[grid.size()];
        double[] sites = new double[grid.size()];
        for (int row = 0; row < drops.rows(); row++) {
            for (int column = 0; column < drops.columns(); column++) {
                tile(grid, firstX + column * pitch, firstY + row * pitch, tileOf);
                count[grid.index(tileOf[0], tileOf[1])] += drops.at(column, row);
                sites[grid.index(tileOf[0], tileOf[1])]++;
            }
        }
        return results(job, choice, map, new DropFiles(drops, firstX, firstY, pitch), count, sites, siteArea, left);
    }

    private static void tile(TileGrid grid, double x, double y, int[] tile) {
        tile[0] = clamp((int) Math.floor((x - grid.originXMetres()) / grid.pitchMetres()), grid.columns());
        tile[1] = clamp((int) Math.floor((y - grid.originYMetres()) / grid.pitchMetres()), grid.rows());
    }

    private static int clamp(int index, int end) {
        return Math.max(0, Math.min(end - 1, index));
    }

    private Drops results(
            Job job,
            DropChoice choice,
            Results map,
            DropFiles files,
            double[] count,
            double[] sites,
            double siteArea,
            double left) {
        TileGrid grid = map.fields().grid();
        double[] volume = map.fields().get(TileFields.CAVITY_VOLUME).toArray();
        double[] need =
                Arrays.stream(volume).map(v -> v + choice.residualMetres()).toArray();
        double[] given = new double[need.length];
        double[] time = new double[need.length];
        OptionalDouble viscosity = job.settings().find(CommonParameters.FILM_VISCOSITY.id());
        OptionalDouble pressure = job.settings().find(CommonParameters.PRESSURE.id());
        boolean timed = viscosity.isPresent() && pressure.isPresent() && pressure.getAsDouble() > 0;
        for (int i = 0; i < need.length; i++) {
            given[i] = sites[i] > 0 ? count[i] * left / (sites[i] * siteArea) : Double.NaN;
            time[i] = timed && need[i] > 0
                    ? DropSpreading.seconds(
                            left, viscosity.getAsDouble(), pressure.getAsDouble(), need[i], choice.startMetres())
                    : Double.NaN;
        }
        List<Field> fields = new ArrayList<>(
                List.of(Field.of(NEED, grid, need), Field.of(GIVEN, grid, given), Field.of(COUNT, grid, count)));
        if (timed) {
            fields.add(Field.of(TIME, grid, time));
        }
        FieldSet all = map.fields().with(fields);
        List<Finding.Warning> warnings = new ArrayList<>(map.warnings());
        List<Limit> limits = timed && choice.seconds().isPresent()
                ? List.of(new Limit(
                        TIME.id(),
                        Limit.Measure.EACH,
                        Limit.Side.AT_MOST,
                        choice.seconds().getAsDouble()))
                : List.of();
        List<Finding.LimitBroken> broken = LimitCheck.check(limits, all).stream()
                .filter(Finding.LimitBroken.class::isInstance)
                .map(Finding.LimitBroken.class::cast)
                .toList();
        for (Finding.LimitBroken late : broken) {
            warnings.add(new Finding.Warning(
                    "drops",
                    "drops.late",
                    String.format(
                            Locale.ROOT,
                            "drops of %d tiles do not meet within %.4g s, the slowest after %.4g s: smaller drops meet sooner",
                            late.tiles(),
                            late.limit().boundSi(),
                            late.foundSi()),
                    late.place()));
        }
        Results results = new Results(
                map.provenance(),
                map.layout(),
                all,
                map.analyses(),
                map.skipped(),
                new Results.Verdict(limits, broken, Ranking.of(List.of(), limits, all)),
                warnings);
        double slowest = Arrays.stream(time).filter(Double::isFinite).max().orElse(0);
        return new Drops(results, files, slowest);
    }

    private void tell(Drops drops, DropChoice choice, Path out) {
        PrintWriter text = context.console().out();
        DropMap map = drops.files().map();
        double left = choice.dropCubicMetres() * (1 - choice.evaporation());
        text.println(String.format(
                Locale.ROOT,
                "%,d drops of %.4g pL on %,d x %,d sites: %.6g nL dispensed, %.6g nL left after evaporation",
                map.total(),
                choice.dropCubicMetres() * 1e15,
                map.columns(),
                map.rows(),
                map.total() * choice.dropCubicMetres() * 1e12,
                map.total() * left * 1e12));
        if (drops.slowestSeconds() > 0) {
            text.println(
                    String.format(Locale.ROOT, "the slowest drops meet after %.4g s at least", drops.slowestSeconds()));
        }
        drops.results()
                .warnings()
                .forEach(warning -> text.println("warning " + warning.origin() + ": " + warning.message()));
        text.println("results: " + out);
        text.println(
                "Solvents and uncured resins harm skin and lungs and may burn: follow the makers' instructions, local codes"
                        + " and trained staff.");
        text.flush();
    }
}
