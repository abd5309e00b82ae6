package org.evenstamp.shared.finding;

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
    record Tile(int column, int row, double xMetres, double yMetres) implements Place {}
}
