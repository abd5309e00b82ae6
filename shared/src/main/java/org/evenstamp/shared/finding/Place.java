package org.evenstamp.shared.finding;

import org.evenstamp.shared.grid.TileGrid;

/** Where on the stamp something was found. */
public sealed interface Place {
    /** The stamp as a whole. */
    record WholeStamp() implements Place {}

    /**
     * One tile.
     *
     * @param column its column
     * @param row its row, 0 the lowest
     * @param xMetres x of its centre
     * @param yMetres y of its centre
     */
    record Tile(int column, int row, double xMetres, double yMetres) implements Place {
        /** Returns the place of the tile with this index. */
        public static Tile of(TileGrid grid, int index) {
            int column = grid.column(index);
            int row = grid.row(index);
            return new Tile(column, row, grid.centreXMetres(column), grid.centreYMetres(row));
        }
    }
}
