package org.evenstamp.analysis.imprint;

import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;

/**
 * The film's features in each tile: what fills the cavities and stands on the residual layer when the stamp is gone.
 *
 * <p>Heights are those that the film stands at ({@link ImprintFields#FEATURE_HEIGHT}), depths those of the stamp. A tile tells
 * its narrowest cavity and protrusion and averages of the rest, so the features are described by one width and one shape factor {@code k = perimeter x width / area}: 2 for a long line, 4 for a square or
 * round pillar. A tile with side walls but no measured width holds features wider than can be seen from it; they count as
 * one tile wide.
 */
public final class Relief {
    private static final double LINE = 2;
    private static final double PILLAR = 4;

    /** Film that stands less high, m, is a rough surface and no feature: less than a molecule of a film. */
    private static final double LEAST_FEATURE = 1e-10;

    private final TileGrid grid;
    private final Field fraction;
    private final Field volume;
    private final Field edges;
    private final Field walls;
    private final Field cavityWidth;
    private final Field protrusionWidth;
    private final Field height;
    private final Field lowest;
    private final Field highest;

    private Relief(FieldSet fields) {
        grid = fields.grid();
        fraction = fields.get(TileFields.CAVITY_FRACTION);
        volume = fields.get(TileFields.CAVITY_VOLUME);
        edges = fields.get(TileFields.EDGE_DENSITY);
        walls = fields.get(TileFields.WALL_AREA);
        cavityWidth = fields.get(TileFields.CAVITY_WIDTH_MIN);
        protrusionWidth = fields.get(TileFields.PROTRUSION_WIDTH_MIN);
        height = fields.get(ImprintFields.FEATURE_HEIGHT);
        lowest = fields.get(ImprintFields.FEATURE_HEIGHT_MIN);
        highest = fields.get(ImprintFields.FEATURE_HEIGHT_MAX);
    }

    /** Returns the fields that {@link #of} reads. */
    public static List<FieldName> needs() {
        return List.of(
                TileFields.CAVITY_FRACTION,
                TileFields.CAVITY_VOLUME,
                TileFields.EDGE_DENSITY,
                TileFields.WALL_AREA,
                TileFields.CAVITY_WIDTH_MIN,
                TileFields.PROTRUSION_WIDTH_MIN,
                ImprintFields.FEATURE_HEIGHT,
                ImprintFields.FEATURE_HEIGHT_MIN,
                ImprintFields.FEATURE_HEIGHT_MAX);
    }

    /** Reads the features from the tile map's fields. */
    public static Relief of(FieldSet fields) {
        return new Relief(fields);
    }

    /** Returns whether the stamp's relief has side walls in the tile. */
    public boolean walled(int tile) {
        return fraction.at(tile) > 0 && volume.at(tile) > 0 && walls.at(tile) > 0;
    }

    /**
     * Returns whether features with side walls stand in the tile: it has such cavities, and film is in them. Only such a tile
     * may be asked for their sizes.
     */
    public boolean featured(int tile) {
        return walled(tile) && height.known(tile) && height.at(tile) >= LEAST_FEATURE;
    }

    /** Returns the share of the tile's area that carries features, 0..1. */
    public double fraction(int tile) {
        return fraction.at(tile);
    }

    /** Returns the side wall area of the features over the tile's area: that of the cavities as far up as film stands. */
    public double walls(int tile) {
        return featured(tile) ? walls.at(tile) * reach(tile) : 0;
    }

    /** Returns the mean height of the features over the mean depth of the cavities. */
    public double reach(int tile) {
        return Math.min(1, height.at(tile) / depth(tile));
    }

    /** Returns the cavity volume over the tile's area, m. */
    public double cavityVolume(int tile) {
        return volume.at(tile);
    }

    /** Returns the mean depth of the cavities, m. */
    public double depth(int tile) {
        return volume.at(tile) / fraction.at(tile);
    }

    /** Returns the mean height of the features, m. */
    public double height(int tile) {
        return height.at(tile);
    }

    /** Returns the height of the lowest features, m. */
    public double lowest(int tile) {
        return lowest.at(tile);
    }

    /** Returns the height of the highest features, m. */
    public double highest(int tile) {
        return highest.at(tile);
    }

    /** Returns the width of the narrowest feature, m. */
    public double width(int tile) {
        return cavityWidth.known(tile) ? cavityWidth.at(tile) : grid.pitchMetres();
    }

    /** Returns the width of the narrowest protrusion between features, m. */
    public double gap(int tile) {
        return protrusionWidth.known(tile) ? protrusionWidth.at(tile) : grid.pitchMetres();
    }

    /** Returns the same {@code k} of the openings between features: 2 for slots, 4 for holes. */
    public double openingShape(int tile) {
        return Math.min(PILLAR, Math.max(LINE, edges.at(tile) * gap(tile) / (1 - fraction.at(tile))));
    }

    /**
     * Returns {@code k = perimeter x width / area}, held between 2 (line) and 4 (pillar): beyond them the width is not that
     * of the features which make the perimeter.
     */
    public double shape(int tile) {
        return Math.min(PILLAR, Math.max(LINE, edges.at(tile) * width(tile) / fraction.at(tile)));
    }
}
