package org.evenstamp.analysis.balance;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.IntPredicate;
import java.util.function.IntToDoubleFunction;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;

/**
 * The balance of one film and pressure; the formulas stand at {@link BalanceProvider}.
 *
 * @param filmMetres film thickness before the imprint, where no map of it is there
 * @param shape how that differs over the map
 * @param swelling thickness while the film is pressed over that, at least 1
 * @param kept share of its height that film keeps when it dries or cures
 * @param viscosityPascalSeconds viscosity
 * @param pressurePascals applied pressure, may be 0
 * @param menisci what pulls and pushes in cavities that are not full
 */
record Balance(
        double filmMetres,
        FilmShape shape,
        double swelling,
        double kept,
        double viscosityPascalSeconds,
        double pressurePascals,
        Menisci menisci)
        implements Analysis {
    /**
     * Film over cavity depth below which the pressure that is needed rises: Y. Hirai et al., J. Vac. Sci. Technol. B 22
     * (2004) 3288, who saw it when the film was thinner than about twice the groove depth.
     */
    private static final double AMPLE_FILM_OVER_DEPTH = 2;

    /** Protrusion width over film thickness below which lubrication theory flatters the speed: common practice. */
    private static final double LUBRICATION_WIDTH_OVER_FILM = 3;

    /** A cavity that covers less of a tile is rounding of the map. */
    private static final double LEAST_FRACTION = 1e-9;

    /** A surplus of no more than this share of mean cavity volume or mean film is none. */
    private static final double EVEN = 1e-9;

    @Override
    public AnalysisResult run(AnalysisContext context) {
        TileGrid grid = context.grid();
        Field fraction = context.fields().get(TileFields.CAVITY_FRACTION);
        double[] volume = context.fields().get(TileFields.CAVITY_VOLUME).toArray();
        Arrays.setAll(volume, i -> fraction.at(i) < LEAST_FRACTION ? 0 : volume[i]);
        Field moment = context.fields().get(TileFields.SQUEEZE_MOMENT);
        double[] film = film(context.fields());
        double meanVolume = mean(volume);
        double meanFilm = mean(film);
        double[] residual = new double[volume.length];
        double[] filled = new double[volume.length];
        double[] starved = new double[volume.length];
        double[] surplus = new double[volume.length];
        double[] fillTime = new double[volume.length];
        double[] pull = menisci.pullPascals(context.fields(), film, volume, fraction.toArray());
        FreeFill freeFill = new FreeFill(viscosityPascalSeconds, pressurePascals, menisci);
        for (int i = 0; i < volume.length; i++) {
            double v = volume[i];
            residual[i] = kept * Math.max(film[i] - v, 0);
            filled[i] = v == 0 ? Double.NaN : v <= film[i] ? 1 : film[i] / v;
            starved[i] = 1 - filled[i];
            double difference = meanVolume - v + (film[i] - meanFilm);
            surplus[i] = Math.abs(difference) <= EVEN * Math.max(meanVolume, meanFilm) ? 0 : difference;
            fillTime[i] = v > 0 && moment.known(i)
                    ? freeFill.seconds(film[i], v, moment.at(i), (1 - fraction.at(i)) * pull[i])
                    : Double.NaN;
        }
        TransportDistance transport = TransportDistance.of(grid, surplus, context.progress());
        return new AnalysisResult(
                List.of(
                        Field.of(ImprintFields.RESIDUAL_LOCAL, grid, residual),
                        Field.of(ImprintFields.FILL_SHARE_LOCAL, grid, filled),
                        Field.of(BalanceFields.STARVED_SHARE, grid, starved),
                        Field.of(BalanceFields.VOLUME_SURPLUS, grid, surplus),
                        Field.of(BalanceFields.TRANSPORT_DISTANCE, grid, transport.metresByTile()),
                        Field.of(ImprintFields.FILL_TIME_FREE, grid, fillTime)),
                figures(grid, film, volume, residual, transport),
                List.of(),
                warnings(context.fields(), film, volume));
    }

    /** Returns the film as it is pressed. */
    private double[] film(FieldSet fields) {
        double[] film = shape.metres(filmMetres, fields);
        Arrays.setAll(film, i -> film[i] * swelling);
        return film;
    }

    private List<Figure> figures(
            TileGrid grid, double[] film, double[] volume, double[] residual, TransportDistance transport) {
        double mean = mean(residual);
        double variance = 0;
        int starved = 0;
        double needed = 0;
        for (int i = 0; i < residual.length; i++) {
            variance += (residual[i] - mean) * (residual[i] - mean) / residual.length;
            needed += volume[i] * grid.tileAreaSquareMetres();
            if (volume[i] > film[i]) {
                starved++;
            }
        }
        double there = mean(film) * grid.tileAreaSquareMetres() * grid.size();
        double largest = Arrays.stream(residual).max().orElseThrow();
        double smallest = Arrays.stream(residual).min().orElseThrow();
        return List.of(
                Figure.of("residual.mean", mean, "nm", "mean residual layer, no flow between tiles"),
                Figure.of("residual.spread", largest - smallest, "nm", "thickest less thinnest residual layer"),
                Figure.of("residual.sigma3", 3 * Math.sqrt(variance), "nm", "three standard deviations over the tiles"),
                Figure.of("tiles.starved", starved, "1", "tiles whose own film cannot fill them"),
                Figure.of("film.needed", needed, "nL", "film that fills every cavity, as it is pressed"),
                Figure.of("film.there", there, "nL", "film that is there, as it is pressed"),
                Figure.of(
                        "film.thickness.least",
                        Arrays.stream(volume).max().orElseThrow() / swelling,
                        "nm",
                        "thinnest film, before it is pressed, with which every tile fills alone"),
                Figure.of("transport.volume", transport.movedCubicMetres(), "nL", "film that has to change its tile"),
                Figure.of("transport.mean", transport.meanMetres(), "um", "mean distance it has to travel"),
                Figure.of(
                        "transport.mean.least",
                        transport.leastMetres(),
                        "um",
                        "lower bound of the shortest possible mean transport"),
                Figure.of(
                        "transport.mean.most",
                        transport.mostMetres(),
                        "um",
                        "upper bound of the shortest possible mean transport"));
    }

    private List<Finding.Warning> warnings(FieldSet fields, double[] film, double[] volume) {
        TileGrid grid = fields.grid();
        Field fraction = fields.get(TileFields.CAVITY_FRACTION);
        List<Finding.Warning> warnings = new ArrayList<>();
        Place stamp = new Place.WholeStamp();
        if (pressurePascals == 0 && !menisci.pulls()) {
            warnings.add(warning("balance.no-pressure", "no pressure is applied, so no tile has a fill time", stamp));
        }
        if (Arrays.stream(volume).allMatch(v -> v == 0)) {
            warnings.add(warning("balance.no-cavity", "the stamp has no cavity, so there is nothing to fill", stamp));
            return List.copyOf(warnings);
        }
        if (Arrays.stream(fraction.toArray()).allMatch(phi -> phi >= 1)) {
            warnings.add(warning(
                    "balance.all-cavity",
                    "the stamp is cavity everywhere: no protrusion squeezes the film, check which of the two is drawn",
                    stamp));
        }
        Smallest starving = Smallest.of(grid.size(), i -> film[i] / volume[i], i -> volume[i] > film[i]);
        if (starving.count > 0) {
            warnings.add(warning(
                    "balance.starved",
                    format(
                            "the film of %.4g nm is too thin to fill %d of %d tiles alone; the emptiest needs %.4g nm",
                            film[starving.index] * 1e9, starving.count, grid.size(), volume[starving.index] * 1e9),
                    Place.Tile.of(grid, starving.index)));
        }
        Smallest shallow = Smallest.of(
                grid.size(),
                i -> film[i] * fraction.at(i) / volume[i],
                i -> volume[i] > 0 && film[i] * fraction.at(i) < AMPLE_FILM_OVER_DEPTH * volume[i]);
        if (shallow.count > 0) {
            warnings.add(warning(
                    "balance.film-below-depth",
                    format(
                            "the film is thinner than %.0f times the mean cavity depth in %d of %d tiles (least %.3g times):"
                                    + " expect to need more pressure than computed",
                            AMPLE_FILM_OVER_DEPTH, shallow.count, grid.size(), shallow.value),
                    Place.Tile.of(grid, shallow.index)));
        }
        Optional<Field> path = fields.find(TileFields.FLOW_PATH_MAX.id());
        if (path.isPresent()) {
            Field longest = path.get();
            Smallest narrow = Smallest.of(
                    grid.size(),
                    i -> 2 * longest.at(i) / film[i],
                    i -> volume[i] > 0
                            && fraction.at(i) < 1
                            && longest.known(i)
                            && 2 * longest.at(i) < LUBRICATION_WIDTH_OVER_FILM * film[i]);
            if (narrow.count > 0) {
                warnings.add(warning(
                        "balance.narrow-protrusions",
                        format(
                                "the widest protrusion is less than %.0f times as wide as the film is thick in %d of %d tiles"
                                        + " (least %.3g times): their fill times are lower bounds",
                                LUBRICATION_WIDTH_OVER_FILM, narrow.count, grid.size(), narrow.value),
                        Place.Tile.of(grid, narrow.index)));
            }
        }
        return List.copyOf(warnings);
    }

    /** The tile with the smallest value among those that count; index -1 when none does. */
    private record Smallest(int index, double value, int count) {
        static Smallest of(int size, IntToDoubleFunction value, IntPredicate counts) {
            int index = -1;
            double least = Double.POSITIVE_INFINITY;
            int count = 0;
            for (int i = 0; i < size; i++) {
                if (counts.test(i)) {
                    count++;
                    double here = value.applyAsDouble(i);
                    if (index < 0 || here < least) {
                        index = i;
                        least = here;
                    }
                }
            }
            return new Smallest(index, least, count);
        }
    }

    private static Finding.Warning warning(String code, String message, Place place) {
        return new Finding.Warning(BalanceProvider.ID, code, message, place);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }

    private static double mean(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.length;
    }
}
