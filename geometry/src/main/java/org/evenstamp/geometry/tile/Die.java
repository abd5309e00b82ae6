package org.evenstamp.geometry.tile;

import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.grid.TileGrid;

/**
 * One copy of a layout that is stepped over a stamp.
 *
 * @param column which column of the array, from 1 on the left
 * @param row which row of the array, from 1 at the bottom
 * @param pose how it lies on the stamp
 * @param rectangle what belongs to it, on the stamp
 */
public record Die(int column, int row, Pose pose, MapOptions.Outline rectangle) {
    /** Less of a die beyond the rim is rounding. */
    private static final double SOME = 1e-9;

    /** Returns what it is called, such as {@code die 3,4}. */
    public String name() {
        return "die " + column + "," + row;
    }

    /** Returns the part of it, 0 to 1, that lies on the stamp. */
    public double shareOn(MapOptions.Outline stamp) {
        double width = Math.min(rectangle.maxX(), stamp.maxX()) - Math.max(rectangle.minX(), stamp.minX());
        double height = Math.min(rectangle.maxY(), stamp.maxY()) - Math.max(rectangle.minY(), stamp.minY());
        double share = width > 0 && height > 0 ? width * height / rectangle.areaSquareMetres() : 0;
        return share > 1 - SOME ? 1 : share;
    }

    /** Returns it as a region of the map of a stamp, which does not count beside those of the layout. */
    public NamedRegion region(TileGrid grid, MapOptions.Outline stamp) {
        double[] shares = new double[grid.size()];
        for (int tile : tiles(grid)) {
            shares[tile] = shareOf(grid, tile, stamp);
        }
        return new NamedRegion(name(), 0, shares);
    }

    /** Returns the tiles that it may have a part of, in the order of the grid. */
    public int[] tiles(TileGrid grid) {
        int left = index((rectangle.minX() - grid.originXMetres()) / grid.pitchMetres(), grid.columns());
        int right = index((rectangle.maxX() - grid.originXMetres()) / grid.pitchMetres() + 1, grid.columns());
        int low = index((rectangle.minY() - grid.originYMetres()) / grid.pitchMetres(), grid.rows());
        int high = index((rectangle.maxY() - grid.originYMetres()) / grid.pitchMetres() + 1, grid.rows());
        int[] tiles = new int[Math.max(0, right - left) * Math.max(0, high - low)];
        int count = 0;
        for (int row = low; row < high; row++) {
            for (int column = left; column < right; column++) {
                tiles[count++] = grid.index(column, row);
            }
        }
        return tiles;
    }

    private static int index(double position, int count) {
        return (int) Math.max(0, Math.min(count, Math.floor(position)));
    }

    /** Returns the part of a tile, 0 to 1, that it covers on the stamp. */
    public double shareOf(TileGrid grid, int tile, MapOptions.Outline stamp) {
        return rectangle.shareOf(grid, tile, stamp);
    }
}
