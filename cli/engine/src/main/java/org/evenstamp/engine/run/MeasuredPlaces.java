package org.evenstamp.engine.run;

import java.util.List;
import java.util.Locale;
import org.evenstamp.engine.job.FilmMap;
import org.evenstamp.engine.job.LampMap;
import org.evenstamp.geometry.scatter.PointValues;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;

/**
 * What was measured at points, on the tiles of a stamp.
 *
 * @param field the values of the tiles
 * @param warnings what had to be assumed
 */
record MeasuredPlaces(Field field, List<Finding.Warning> warnings) {
    /** Brings a measured film onto tiles; refuses points that do not cover them. */
    static MeasuredPlaces ofFilm(FilmMap.Measured map, TileGrid grid) {
        return of(map.points(), map.asWritten(), TileFields.FILM_COATED, "film", grid);
    }

    /** Brings a measured lamp onto tiles; refuses points that do not cover them. */
    static MeasuredPlaces ofLamp(LampMap map, TileGrid grid) {
        return of(map.points(), map.asWritten(), TileFields.LAMP_IRRADIANCE, "lamp", grid);
    }

    private static MeasuredPlaces of(PointValues points, String file, FieldName name, String what, TileGrid grid) {
        PointValues.OnTiles tiles = points.on(grid);
        double spacing = points.spacingMetres();
        if (tiles.uncovered() > 0) {
            throw new InputException(
                    what + ".map-uncovered",
                    file,
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
        if (tiles.beyond() == 0) {
            return new MeasuredPlaces(Field.of(name, grid, tiles.values()), List.of());
        }
        Finding.Warning beyond = new Finding.Warning(
                what + " map",
                what + ".map-beyond",
                format(
                        "%d of %d tiles lie outside the measured points, up to %.4g mm: they take the %s of the nearest"
                                + " place on the points' rim",
                        tiles.beyond(),
                        grid.size(),
                        tiles.farthestMetres() * 1e3,
                        what.equals("lamp") ? "light" : what),
                Place.Tile.of(grid, tiles.farthestTile()));
        return new MeasuredPlaces(Field.of(name, grid, tiles.values()), List.of(beyond));
    }

    /** Returns where the centre of a tile is. */
    static String place(TileGrid grid, int tile) {
        return format(
                "at x = %.4g mm, y = %.4g mm",
                grid.centreXMetres(grid.column(tile)) * 1e3, grid.centreYMetres(grid.row(tile)) * 1e3);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
