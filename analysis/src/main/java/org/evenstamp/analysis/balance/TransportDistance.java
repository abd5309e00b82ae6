package org.evenstamp.analysis.balance;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * How far surplus film travels when it takes the shortest way, all of it together: an optimal transport from the tiles with
 * surplus to those with a deficit, straight lines between tile centres.
 *
 * <p>Up to {@value #EXACT_TILES} tiles the optimum is exact (see {@link Transport}). Larger grids are done in steps: inside
 * each block of tiles surplus serves deficit at the least cost; what a block has left over, placed at its centroid, is one
 * tile of the next coarser grid, and so on until the grid is small enough. The result is then close to the optimum and
 * comes with two bounds of it, both computed from the case at hand. With {@code r} the distance from a tile to the place of
 * its block's leftover, each summed over all steps:
 *
 * <ul>
 *   <li>the optimum is at most the transport found plus {@code sum(left over x r)}, since that is what a real plan would cost at
 *       most;
 *   <li>it is at least the transport of the coarsest grid less {@code sum(surplus or deficit x r)} (triangle inequality), and at
 *       least one tile pitch.
 * </ul>
 *
 * <p>Amounts are rounded to 2^-50 of the volume moved; a tile with less has no value.
 */
final class TransportDistance {
    /** Number of tiles up to which the result is exact. */
    static final int EXACT_TILES = 1024;

    private static final int LARGEST_BLOCK = 8;
    private static final double UNITS = 0x1p50;

    private final double[] metresByTile;
    private final double meanMetres;
    private final double leastMetres;
    private final double mostMetres;
    private final double movedCubicMetres;

    private TransportDistance(
            double[] metresByTile, double meanMetres, double leastMetres, double mostMetres, double movedCubicMetres) {
        this.metresByTile = metresByTile;
        this.meanMetres = meanMetres;
        this.leastMetres = leastMetres;
        this.mostMetres = mostMetres;
        this.movedCubicMetres = movedCubicMetres;
    }

    /** Returns the mean transport of each tile's surplus, NaN where there is none. */
    double[] metresByTile() {
        return metresByTile.clone();
    }

    /** Returns the mean transport of all surplus, 0 when there is none. */
    double meanMetres() {
        return meanMetres;
    }

    /** Returns a lower bound of the smallest possible mean transport. */
    double leastMetres() {
        return leastMetres;
    }

    /** Returns an upper bound of the smallest possible mean transport. */
    double mostMetres() {
        return mostMetres;
    }

    /** Returns the volume of all surplus. */
    double movedCubicMetres() {
        return movedCubicMetres;
    }

    /**
     * Finds the transport.
     *
     * @param surplusMetres film that has to leave each tile per area, negative where it has to arrive; the sum is zero up
     *     to rounding
     * @param progress interrupts
     */
    static TransportDistance of(TileGrid grid, double[] surplusMetres, Progress progress) {
        return of(grid, surplusMetres, EXACT_TILES, progress);
    }

    static TransportDistance of(TileGrid grid, double[] surplusMetres, int exactTiles, Progress progress) {
        double[] byTile = new double[grid.size()];
        Arrays.fill(byTile, Double.NaN);
        double moved = Arrays.stream(surplusMetres).filter(s -> s > 0).sum();
        if (moved == 0) {
            return new TransportDistance(byTile, 0, 0, 0, 0);
        }
        Level tiles = Level.of(grid, surplusMetres, moved);
        try (Stage stage = progress.stage("transport of surplus film", 0, "steps")) {
            Cost cost = tiles.solve(exactTiles, byTile, stage);
            double pitch = grid.pitchMetres();
            double units = tiles.surplusUnits();
            double mean = cost.found / units;
            for (int i = 0; i < byTile.length; i++) {
                byTile[i] *= pitch;
            }
            return new TransportDistance(
                    byTile,
                    mean * pitch,
                    Math.min(mean, Math.max(1, cost.least / units)) * pitch,
                    cost.most / units * pitch,
                    moved * grid.tileAreaSquareMetres());
        }
    }

    /** Units times tiles of distance: what was found, and bounds of the optimum. */
    private record Cost(double found, double least, double most) {}

    /** A grid of points with signed amounts, positive for surplus, in sum zero; lengths in tiles. */
    private static final class Level {
        private final int columns;
        private final int rows;
        private final double[] x;
        private final double[] y;
        private final long[] units;

        private Level(int columns, int rows) {
            this.columns = columns;
            this.rows = rows;
            x = new double[columns * rows];
            y = new double[columns * rows];
            units = new long[columns * rows];
        }

        static Level of(TileGrid grid, double[] surplus, double moved) {
            Level level = new Level(grid.columns(), grid.rows());
            long[] units = level.units;
            long sum = 0;
            int largest = 0;
            for (int i = 0; i < units.length; i++) {
                level.x[i] = grid.column(i);
                level.y[i] = grid.row(i);
                units[i] = Math.round(surplus[i] / moved * UNITS);
                sum += units[i];
                if (Math.abs(units[i]) > Math.abs(units[largest])) {
                    largest = i;
                }
            }
            units[largest] -= sum; // what rounding left over
            return level;
        }

        int size() {
            return units.length;
        }

        double surplusUnits() {
            return Arrays.stream(units).filter(u -> u > 0).sum();
        }

        /** Writes the mean transport of every point with surplus into {@code transport}, in tiles. */
        Cost solve(int exactTiles, double[] transport, Stage stage) {
            double[] cost = new double[size()];
            long[] left = units.clone();
            if (size() <= exactTiles) {
                double found = carry(IntStream.range(0, size()).toArray(), cost, left, stage);
                setHauls(cost, transport);
                return new Cost(found, found, found);
            }
            int block = (int) Math.ceil(Math.sqrt((double) size() / exactTiles));
            block = Math.min(LARGEST_BLOCK, Math.max(2, block));
            int coarseColumns = (columns + block - 1) / block;
            Level coarse = new Level(coarseColumns, (rows + block - 1) / block);
            double near = 0;
            double shiftLeft = 0;
            double shiftAll = 0;
            for (int at = 0; at < coarse.size(); at++) {
                int[] members = members(at % coarseColumns * block, at / coarseColumns * block, block);
                near += carry(members, cost, left, stage);
                coarse.place(at, members, this, left);
                for (int i : members) {
                    double r = Math.hypot(x[i] - coarse.x[at], y[i] - coarse.y[at]);
                    shiftLeft += Math.abs(left[i]) * r;
                    shiftAll += Math.abs(units[i]) * r;
                }
            }
            double[] coarseHaul = new double[coarse.size()];
            Cost far = coarse.solve(exactTiles, coarseHaul, stage);
            for (int i = 0; i < size(); i++) {
                if (left[i] > 0) {
                    cost[i] += left[i] * coarseHaul[i / columns / block * coarseColumns + i % columns / block];
                }
            }
            setHauls(cost, transport);
            return new Cost(near + far.found, far.least - shiftAll, near + far.most + shiftLeft);
        }

        private void setHauls(double[] cost, double[] transport) {
            for (int i = 0; i < size(); i++) {
                if (units[i] > 0) {
                    transport[i] = cost[i] / units[i];
                }
            }
        }

        private int[] members(int firstColumn, int firstRow, int block) {
            int width = Math.min(block, columns - firstColumn);
            int height = Math.min(block, rows - firstRow);
            int[] members = new int[width * height];
            for (int k = 0; k < members.length; k++) {
                members[k] = (firstRow + k / width) * columns + firstColumn + k % width;
            }
            return members;
        }

        /** Makes point {@code at} of this level the centroid of what the members of a finer level have left. */
        private void place(int at, int[] members, Level finer, long[] left) {
            double weight = 0;
            double plainX = 0;
            double plainY = 0;
            for (int i : members) {
                double w = Math.abs(left[i]);
                weight += w;
                x[at] += w * finer.x[i];
                y[at] += w * finer.y[i];
                plainX += finer.x[i] / members.length;
                plainY += finer.y[i] / members.length;
                units[at] += left[i];
            }
            x[at] = weight == 0 ? plainX : x[at] / weight;
            y[at] = weight == 0 ? plainY : y[at] / weight;
        }

        /**
         * Carries surplus to deficit among some points as cheaply as possible.
         *
         * @param cost raised at each point with surplus by what was carried from it
         * @param left brought down to what remains
         * @return the cost of all
         */
        private double carry(int[] points, double[] cost, long[] left, Stage stage) {
            int[] from = Arrays.stream(points).filter(i -> left[i] > 0).toArray();
            int[] to = Arrays.stream(points).filter(i -> left[i] < 0).toArray();
            if (from.length == 0 || to.length == 0) {
                return 0;
            }
            Transport.solve(pick(from, left), pick(to, left), stage, (source, sink, amount, distance) -> {
                cost[from[source]] += amount * distance;
                left[from[source]] -= amount;
                left[to[sink]] += amount;
            });
            return Arrays.stream(from).mapToDouble(i -> cost[i]).sum();
        }

        private Transport.Points pick(int[] points, long[] amounts) {
            return new Transport.Points(
                    Arrays.stream(points).mapToDouble(i -> x[i]).toArray(),
                    Arrays.stream(points).mapToDouble(i -> y[i]).toArray(),
                    Arrays.stream(points).mapToLong(i -> Math.abs(amounts[i])).toArray());
        }
    }
}
