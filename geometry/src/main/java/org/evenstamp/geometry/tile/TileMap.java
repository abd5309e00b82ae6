package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.spi.Figure;

/**
 * A measured layout.
 *
 * @param fields the fields of {@link org.evenstamp.shared.field.TileFields} on one grid, and the named regions of the stamp
 * @param outline the stamp's rectangle
 * @param pitchReason why the tiles are as large as they are, a sentence for a person
 * @param structureReason how squeeze moment, flow paths and widths were found, a sentence for a person
 * @param figures the bookkeeping: polygons, copies, areas drawn, inside and outside the grid, merged, textured
 * @param regions the land, then the cavities by depth, shallow ones first, then, where features of several roles are drawn,
 *     what each role covers
 * @param dies the copies of a layout that is stepped over the stamp; empty when it stands there once
 * @param warnings what a reader of the map must know
 */
public record TileMap(
        FieldSet fields,
        MapOptions.Outline outline,
        String pitchReason,
        String structureReason,
        List<Figure> figures,
        List<Region> regions,
        List<Die> dies,
        List<Finding.Warning> warnings) {
    /** Copies the lists. */
    public TileMap {
        figures = List.copyOf(figures);
        regions = List.copyOf(regions);
        dies = List.copyOf(dies);
        warnings = List.copyOf(warnings);
    }

    /** Returns this map with other fields of the same tiles. */
    public TileMap with(FieldSet others) {
        return new TileMap(others, outline, pitchReason, structureReason, figures, regions, dies, warnings);
    }

    /** Returns this map with something more that a reader must know. */
    public TileMap warning(List<Finding.Warning> more) {
        List<Finding.Warning> all = new ArrayList<>(warnings);
        all.addAll(more);
        return new TileMap(fields, outline, pitchReason, structureReason, figures, regions, dies, all);
    }
}
