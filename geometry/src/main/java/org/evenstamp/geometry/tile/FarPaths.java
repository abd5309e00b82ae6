package org.evenstamp.geometry.tile;

import java.util.function.IntPredicate;
import org.evenstamp.geometry.measure.DistanceMap;
import org.evenstamp.geometry.measure.FineFeatures;
import org.evenstamp.shared.grid.TileGrid;

/** Ways from land far from any cavity to the nearest one, on a map of the whole stamp with a few cells a tile. */
final class FarPaths {
    private FarPaths() {}

    /** Returns how many cells of the map a tile's side takes. */
    static int cellsPerTile(TileGrid grid) {
        return grid.size() <= 250_000 ? 4 : grid.size() <= 1_000_000 ? 2 : 1;
    }

    /**
     * Measures.
     *
     * @param land share of land in every cell; not kept as it is
     * @param perTile cells along a tile
     * @param wanted which tiles to measure
     * @param mean takes the mean way over each of them, m; left alone when the stamp has no cavity
     * @param longest takes the longest way likewise
     */
    static void measure(
            TileGrid grid, double[] land, int perTile, IntPredicate wanted, double[] mean, double[] longest) {
        int columns = grid.columns() * perTile;
        double cell = grid.pitchMetres() / perTile;
        for (int i = 0; i < land.length; i++) {
            land[i] = land[i] >= FineFeatures.PURE_LAND ? 1 : 0;
        }
        double[] distance = new double[land.length];
        if (!new DistanceMap(columns, grid.rows() * perTile).measure(land, distance)) {
            return;
        }
        for (int tile = 0; tile < grid.size(); tile++) {
            if (wanted.test(tile)) {
                double sum = 0;
                double most = 0;
                for (int r = 0; r < perTile; r++) {
                    int at = (grid.row(tile) * perTile + r) * columns + grid.column(tile) * perTile;
                    for (int c = 0; c < perTile; c++) {
                        sum += distance[at + c];
                        most = Math.max(most, distance[at + c]);
                    }
                }
                mean[tile] = sum / (perTile * perTile) * cell;
                longest[tile] = most * cell;
            }
        }
    }
}
