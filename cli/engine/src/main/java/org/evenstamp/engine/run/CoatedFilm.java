package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.drops.DispensedFilm;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * The film of a job on its tiles.
 *
 * @param field the film before the imprint
 * @param warnings what had to be assumed or left out
 */
public record CoatedFilm(Field field, List<Finding.Warning> warnings) {
    private static final double LEAST =
            CommonParameters.FILM_THICKNESS.unit().toSi(CommonParameters.FILM_THICKNESS.least());
    private static final double MOST =
            CommonParameters.FILM_THICKNESS.unit().toSi(CommonParameters.FILM_THICKNESS.most());

    /**
     * Brings a film onto the tiles of a stamp.
     *
     * @throws InputException when points do not cover the tiles, or drops leave some without film
     */
    public static CoatedFilm of(FilmMap map, TileMap stamp, Progress progress) {
        TileGrid grid = stamp.fields().grid();
        if (map instanceof FilmMap.Measured measured) {
            MeasuredPlaces places = MeasuredPlaces.ofFilm(measured, grid);
            return new CoatedFilm(places.field(), places.warnings());
        }
        return dispensed((FilmMap.Dispensed) map, grid, stamp.outline(), progress);
    }

    private static CoatedFilm dispensed(
            FilmMap.Dispensed map, TileGrid grid, MapOptions.Outline stamp, Progress progress) {
        DispensedFilm film;
        try (Stage stage = progress.stage("spreading drops", map.x().length, "drops")) {
            film = DispensedFilm.of(map.x(), map.y(), map.cubicMetres(), grid, stamp.width(), stamp.height(), stage);
        }
        double[] metres = film.metres();
        if (film.outside() == map.x().length) {
            throw new InputException(
                    "film.map-outside",
                    map.asWritten(),
                    "all its " + film.outside() + " places of drops lie outside the map",
                    format(
                            "the stamp reaches from x = %.4g mm, y = %.4g mm to x = %.4g mm, y = %.4g mm",
                            stamp.minX() * 1e3, stamp.minY() * 1e3, stamp.maxX() * 1e3, stamp.maxY() * 1e3));
        }
        long dry = Arrays.stream(metres).filter(h -> h < LEAST).count();
        if (dry > 0) {
            int first = 0;
            while (metres[first] >= LEAST) {
                first++;
            }
            throw new InputException(
                    "film.map-dry",
                    map.asWritten(),
                    format(
                            "the drops leave %d of %d tiles without film, first %s: a drop spreads over %d mean drop spacings,"
                                    + " %.4g mm, at most",
                            dry,
                            grid.size(),
                            MeasuredPlaces.place(grid, first),
                            DispensedFilm.REACH,
                            DispensedFilm.REACH * film.spacingMetres() * 1e3),
                    "put drops there too");
        }
        double most = Arrays.stream(metres).max().orElse(0);
        if (most > MOST) {
            throw new InputException(
                    "film.map-thickness",
                    map.asWritten(),
                    format("the drops make a film of up to %.4g mm, more than %.4g mm", most * 1e3, MOST * 1e3),
                    "look at drops.volume and at the units in the file's first line");
        }
        List<Finding.Warning> warnings = new ArrayList<>();
        if (film.outside() > 0) {
            warnings.add(new Finding.Warning(
                    "film map",
                    "film.map-outside",
                    format(
                            "%d of %d places of drops lie outside the map and were left out, first that on line %d of %s",
                            film.outside(), map.x().length, map.lines()[film.firstOutside()], map.asWritten()),
                    new Place.WholeStamp()));
        }
        return new CoatedFilm(Field.of(TileFields.FILM_COATED, grid, metres), warnings);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
