package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.drops.DispensedFilm;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.geometry.scatter.PointValues;
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
        return map instanceof FilmMap.Measured measured
                ? measured(measured, grid)
                : dispensed((FilmMap.Dispensed) map, grid, stamp.outline(), progress);
    }

    private static CoatedFilm measured(FilmMap.Measured map, TileGrid grid) {
        PointValues.OnTiles tiles = map.points().on(grid);
        double spacing = map.points().spacingMetres();
        if (tiles.uncovered() > 0) {
            throw new InputException(
                    "film.map-uncovered",
                    map.asWritten(),
                    format(
                            "the points do not cover the stamp: %d of %d tiles lie farther from their area than their mean"
                                    + " spacing of %.4g mm, the farthest, %s, by %.4g mm",
                            tiles.uncovered(),
                            grid.size(),
                            spacing * 1e3,
                            place(grid, tiles.farthestTile()),
                            tiles.farthestMetres() * 1e3),
                    "measure there too, or look whether the points are in the layout's coordinates");
        }
        List<Finding.Warning> warnings = new ArrayList<>();
        if (tiles.beyond() > 0) {
            warnings.add(new Finding.Warning(
                    "film map",
                    "film.map-beyond",
                    format(
                            "%d of %d tiles lie outside the measured points, up to %.4g mm: they take the film of the nearest"
                                    + " place on the points' rim",
                            tiles.beyond(), grid.size(), tiles.farthestMetres() * 1e3),
                    Place.Tile.of(grid, tiles.farthestTile())));
        }
        return new CoatedFilm(Field.of(TileFields.FILM_COATED, grid, tiles.values()), warnings);
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
                            place(grid, first),
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

    private static String place(TileGrid grid, int tile) {
        return format(
                "at x = %.4g mm, y = %.4g mm",
                grid.centreXMetres(grid.column(tile)) * 1e3, grid.centreYMetres(grid.row(tile)) * 1e3);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
