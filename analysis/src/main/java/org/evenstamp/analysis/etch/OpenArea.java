package org.evenstamp.analysis.etch;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/** The film that an etch finds around a tile once the residual layer is gone: the features alone, averaged over a length. */
final class OpenArea {
    private OpenArea() {}

    /**
     * Returns the mean cavity fraction around each tile: over the square of tiles whose centres lie within half the length on either
     * side, as far as the map goes. With a length below two tiles that is the tile's own.
     */
    static double[] around(Field fraction, double lengthMetres) {
        TileGrid grid = fraction.grid();
        int reach = (int) Math.floor(lengthMetres / 2 / grid.pitchMetres() + 1e-9);
        int columns = grid.columns();
        double[] sums = new double[(columns + 1) * (grid.rows() + 1)]; // over all tiles below and left
        for (int row = 0; row < grid.rows(); row++) {
            double line = 0;
            for (int column = 0; column < columns; column++) {
                line += fraction.at(grid.index(column, row));
                sums[(row + 1) * (columns + 1) + column + 1] = sums[row * (columns + 1) + column + 1] + line;
            }
        }
        double[] mean = new double[grid.size()];
        for (int i = 0; i < mean.length; i++) {
            int left = Math.max(0, grid.column(i) - reach);
            int right = Math.min(columns, grid.column(i) + reach + 1);
            int low = Math.max(0, grid.row(i) - reach) * (columns + 1);
            int high = Math.min(grid.rows(), grid.row(i) + reach + 1) * (columns + 1);
            double sum = sums[high + right] - sums[high + left] - sums[low + right] + sums[low + left];
            int tiles = (right - left) * ((high - low) / (columns + 1));
            mean[i] = reach == 0 ? fraction.at(i) : Math.min(1, Math.max(0, sum / tiles));
        }
        return mean;
    }
}
