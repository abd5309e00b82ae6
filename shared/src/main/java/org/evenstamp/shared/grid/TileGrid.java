package org.evenstamp.shared.grid;

/**
 * A grid of square tiles, the plane of the stamp seen from the film: x to the right, y up.
 *
 * <p>Column 0 is the leftmost, row 0 the lowest. A tile's index is {@code row * columns + column}, so an array over the
 * grid holds the lowest row first. A tile owns its left and lower edge and not its right and upper one.
 *
 * @param originXMetres x of the lower left corner of tile (0, 0)
 * @param originYMetres y of the lower left corner of tile (0, 0)
 * @param pitchMetres side of a tile, positive
 * @param columns number of tiles along x, at least 1
 * @param rows number of tiles along y, at least 1
 */
public record TileGrid(double originXMetres, double originYMetres, double pitchMetres, int columns, int rows) {

    /** Checks the ranges. */
    public TileGrid {
        if (!Double.isFinite(originXMetres) || !Double.isFinite(originYMetres)) {
            throw new IllegalArgumentException("grid origin must be finite: " + originXMetres + ", " + originYMetres);
        }
        if (!(pitchMetres > 0) || Double.isInfinite(pitchMetres)) {
            throw new IllegalArgumentException("tile pitch must be positive and finite, was " + pitchMetres + " m");
        }
        if (columns < 1 || rows < 1 || (long) columns * rows > Integer.MAX_VALUE - 8) {
            throw new IllegalArgumentException("grid of " + columns + " x " + rows + " tiles is not possible");
        }
    }

    /** Returns the number of tiles. */
    public int size() {
        return columns * rows;
    }

    /** Returns the index of a tile in an array over the grid. */
    public int index(int column, int row) {
        return row * columns + column;
    }

    /** Returns the column of the tile with this index. */
    public int column(int index) {
        return index % columns;
    }

    /** Returns the row of the tile with this index. */
    public int row(int index) {
        return index / columns;
    }

    /** Returns where the centre of the tile with this index lies along x: from -1 at the left side of the map to 1 at the right. */
    public double across(int index) {
        return (2.0 * column(index) + 1) / columns - 1;
    }

    /** Returns where it lies along y: from -1 at the lower side of the map to 1 at the upper. */
    public double upward(int index) {
        return (2.0 * row(index) + 1) / rows - 1;
    }

    /** Returns x of the centre of a column, in metres. */
    public double centreXMetres(int column) {
        return originXMetres + (column + 0.5) * pitchMetres;
    }

    /** Returns y of the centre of a row, in metres. */
    public double centreYMetres(int row) {
        return originYMetres + (row + 0.5) * pitchMetres;
    }

    /** Returns the area of one tile in square metres. */
    public double tileAreaSquareMetres() {
        return pitchMetres * pitchMetres;
    }
}
