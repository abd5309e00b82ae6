package org.evenstamp.geometry.tile;

import java.util.function.IntConsumer;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.shared.grid.TileGrid;

/** Finds the tiles that a polygon on the stamp has a part of, copies of its array included. For one thread. */
public final class TouchedTiles {
    /** A smaller share of a tile is rounding. */
    private static final double SOME = 1e-9;

    private final TileGrid grid;
    private final double[] box = new double[4];

    /** Prepares for a map. */
    public TouchedTiles(TileGrid grid) {
        this.grid = grid;
    }

    /** Tells of every tile that the polygon covers a part of; some may come several times. */
    public void of(PackedPolygon polygon, IntConsumer tiles) {
        Repeat repeat = polygon.traits.repeat();
        polygon.box(box);
        for (int row = 0; row < (repeat == null ? 1 : repeat.rows()); row++) {
            for (int column = 0; column < (repeat == null ? 1 : repeat.columns()); column++) {
                double dx = repeat == null ? 0 : column * repeat.dxMetres();
                double dy = repeat == null ? 0 : row * repeat.dyMetres();
                copy(polygon, dx, dy, tiles);
            }
        }
    }

    private void copy(PackedPolygon polygon, double dx, double dy, IntConsumer tiles) {
        double pitch = grid.pitchMetres();
        int left = index((box[0] + dx - grid.originXMetres()) / pitch, grid.columns());
        int right = index((box[2] + dx - grid.originXMetres()) / pitch, grid.columns());
        int low = index((box[1] + dy - grid.originYMetres()) / pitch, grid.rows());
        int high = index((box[3] + dy - grid.originYMetres()) / pitch, grid.rows());
        boolean outside = right < 0 || left >= grid.columns() || high < 0 || low >= grid.rows();
        if (outside) {
            return;
        }
        if (left == right && low == high) {
            tiles.accept(grid.index(left, low));
            return;
        }
        left = Math.max(0, left);
        low = Math.max(0, low);
        int columns = Math.min(grid.columns() - 1, right) - left + 1;
        int rows = Math.min(grid.rows() - 1, high) - low + 1;
        CoverageSums sums = new CoverageSums(
                columns, rows, grid.originXMetres() + left * pitch, grid.originYMetres() + low * pitch, pitch);
        sums.add(polygon, dx, dy);
        double[] shares = sums.coverage();
        for (int i = 0; i < shares.length; i++) {
            if (shares[i] > SOME) {
                tiles.accept(grid.index(left + i % columns, low + i / columns));
            }
        }
    }

    /** Which column or row; -1 before the first and the count behind the last. */
    private static int index(double position, int count) {
        return (int) Math.max(-1, Math.min(count, Math.floor(position)));
    }
}
