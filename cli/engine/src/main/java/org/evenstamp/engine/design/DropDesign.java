package org.evenstamp.engine.design;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.drops.DropMap;
import org.evenstamp.analysis.drops.DropSpreading;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.analysis.process.Capillarity;
import org.evenstamp.engine.job.DropChoice;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;

/**
 * Proposes drops of a dispensed film: as many on every site of the raster as fill the cavities below it and leave the wanted
 * residual layer, rounded so that what is left over at one site goes to its neighbours ({@link DropMap}).
 */
public final class DropDesign {
    private static final FieldName NEED =
            FieldName.of("drop.need", "nm", "film that the tile needs over its area: cavities and residual layer");
    private static final FieldName GIVEN =
            FieldName.of("drop.given", "nm", "film that the tile's drops leave over its area, after evaporation");
    private static final FieldName COUNT = FieldName.of("drop.count", "1", "number of drops in the tile");
    private static final FieldName TIME = FieldName.of(
            "drop.time",
            "s",
            "time in which the tile's drops spread until they meet, under the pressure and, where a surface tension is given, by their"
                    + " own menisci");
    private static final long MOST_SITES = 200_000_000;

    private final Job job;
    private final DropChoice choice;
    private final Results measured;
    private final TileGrid grid;
    private final double[] volume;

    private DropDesign(Job job, Results measured) {
        this.job = job;
        this.choice = DropChoice.of(job);
        this.measured = measured;
        this.grid = measured.fields().grid();
        this.volume = measured.fields().get(TileFields.CAVITY_VOLUME).toArray();
    }

    /**
     * Proposes drops for the stamp of a job, as its section {@code drops} says.
     *
     * @throws InputException when the job lacks what drops need, or the raster does not fit the stamp
     */
    public static DropProposal of(Job job, RunOptions options, Progress progress) {
        DropChoice.of(job); // says what is missing before anything is computed
        return new DropDesign(job, Simulation.run(job.measuring(), options, progress)).place();
    }

    /** The raster on the stamp, centred. */
    private record Sites(int columns, int rows, DropProposal.Raster raster, double areaSquareMetres) {}

    private DropProposal place() {
        Sites sites = sites();
        double left = choice.dropCubicMetres() * (1 - choice.evaporation());
        DropMap drops = DropMap.of(
                sites.columns(),
                sites.rows(),
                (column, row) ->
                        (volume[tile(sites, column, row)] + choice.residualMetres()) * sites.areaSquareMetres() / left);
        double[] count = new double[grid.size()];
        double[] sitesOfTile = new double[grid.size()];
        for (int row = 0; row < drops.rows(); row++) {
            for (int column = 0; column < drops.columns(); column++) {
                int tile = tile(sites, column, row);
                count[tile] += drops.at(column, row);
                sitesOfTile[tile]++;
            }
        }
        double[] need =
                Arrays.stream(volume).map(v -> v + choice.residualMetres()).toArray();
        double[] given = new double[need.length];
        for (int i = 0; i < need.length; i++) {
            given[i] = sitesOfTile[i] > 0 ? count[i] * left / (sitesOfTile[i] * sites.areaSquareMetres()) : Double.NaN;
        }
        List<Field> fields = new ArrayList<>(
                List.of(Field.of(NEED, grid, need), Field.of(GIVEN, grid, given), Field.of(COUNT, grid, count)));
        OptionalDouble viscosity = job.settings().find(CommonParameters.FILM_VISCOSITY.id());
        OptionalDouble pressure = job.settings().find(CommonParameters.PRESSURE.id());
        double slowest = 0;
        if (viscosity.isPresent() && pressure.isPresent() && pressure.getAsDouble() > 0) {
            double[] time = meeting(need, left, viscosity.getAsDouble(), pressure.getAsDouble());
            fields.add(Field.of(TIME, grid, time));
            slowest = Arrays.stream(time).filter(Double::isFinite).max().orElse(0);
        }
        return new DropProposal(results(fields), drops, sites.raster(), choice.dropCubicMetres(), left, slowest);
    }

    private Sites sites() {
        MapOptions.Outline outline = measured.map().outline();
        double pitch = choice.pitchMetres();
        double columns = Math.rint(outline.width() / pitch);
        double rows = Math.rint(outline.height() / pitch);
        if (columns < 1 || rows < 1 || columns * rows > MOST_SITES) {
            double least = Math.sqrt(outline.width() * outline.height() / MOST_SITES);
            throw new InputException(
                    "drops.pitch",
                    "drops.pitch",
                    String.format(Locale.ROOT, "a raster of %.0f x %.0f sites is not possible", columns, rows),
                    String.format(
                            Locale.ROOT,
                            "a pitch from %.4g to %.4g um",
                            least * 1e6,
                            Math.min(outline.width(), outline.height()) * 1e6));
        }
        return new Sites(
                (int) columns,
                (int) rows,
                new DropProposal.Raster(
                        outline.minX() + (outline.width() - (columns - 1) * pitch) / 2,
                        outline.minY() + (outline.height() - (rows - 1) * pitch) / 2,
                        pitch),
                outline.width() / columns * (outline.height() / rows));
    }

    private int tile(Sites sites, int column, int row) {
        return grid.index(
                clamp((sites.raster().xMetres(column) - grid.originXMetres()) / grid.pitchMetres(), grid.columns()),
                clamp((sites.raster().yMetres(row) - grid.originYMetres()) / grid.pitchMetres(), grid.rows()));
    }

    private static int clamp(double index, int end) {
        return Math.max(0, Math.min(end - 1, (int) Math.floor(index)));
    }

    /** Returns when the drops of each tile meet, s. */
    private double[] meeting(double[] need, double left, double viscosity, double pressure) {
        double[] time = new double[need.length];
        OptionalDouble tension = job.settings().find("film.surface-tension");
        double angle = job.settings().find("film.contact-angle").orElse(0);
        Optional<Capillarity> capillarity = tension.isPresent() && tension.getAsDouble() > 0
                ? Optional.of(new Capillarity(tension.getAsDouble(), angle))
                : Optional.empty();
        for (int i = 0; i < need.length; i++) {
            time[i] = need[i] > 0
                    ? DropSpreading.seconds(left, viscosity, pressure, need[i], choice.startMetres(), capillarity)
                    : Double.NaN;
        }
        return time;
    }

    private Results results(List<Field> fields) {
        FieldSet all = measured.fields().with(fields);
        boolean timed = all.find(TIME.id()).isPresent();
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
        List<Finding.Warning> warnings = new ArrayList<>(measured.warnings());
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
        return new Results(
                measured.provenance(),
                measured.layout(),
                all,
                measured.analyses(),
                measured.skipped(),
                new Results.Verdict(limits, broken, List.of(), Ranking.of(List.of(), limits, all)),
                warnings);
    }
}
