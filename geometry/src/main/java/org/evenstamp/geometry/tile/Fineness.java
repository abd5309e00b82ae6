package org.evenstamp.geometry.tile;

/** How a tile's drawn land is looked at. */
enum Fineness {
    /** No drawn land. */
    NONE(0, 0),
    /** No cavity in the tile. */
    FAR(0, 0),
    COARSE(Fineness.CELLS, 20),
    MEDIUM(Fineness.CELLS, 30),
    FINE(Fineness.MORE_CELLS, 60),
    /** By samples, their cells as fine as the features ask. */
    SAMPLED(Fineness.SAMPLE_CELLS, 0);

    /** Cells along a picture. */
    static final int CELLS = 60;
    /** Cells along a picture of a whole tile with finer features. */
    static final int MORE_CELLS = 100;
    /** Cells along a sampling picture. */
    static final int SAMPLE_CELLS = 48;

    final int cells;
    final int perTile;

    Fineness(int cells, int perTile) {
        this.cells = cells;
        this.perTile = perTile;
    }
}
