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
        throw new UnsupportedOperationException("in work: " + options + source + progress);
    }
}
