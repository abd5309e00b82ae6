package org.evenstamp.geometry.tile;

import org.evenstamp.shared.grid.TileGrid;

/**
 * What tiles hold as film sees it that finds its way within half a feature pitch: where a side of a tile cuts fine features,
 * what the tile holds jumps with the place of the cut, by half a feature, though in the cut cavity film flows freely.
 *
 * <p>Each side becomes two pitches wide (more where these are no wider than a few cells): a tile's window is its square drawn out
 * by a mean over one period and once more over one, under which a grating looks even, and still does to the square of the
 * error where the edges of two tiles do not tell the pitch exactly. At the rim of a field it is one mean over the field's own
 * period. What one tile loses its neighbour gains.
 */
final class CutFeatures {
    private static final double NOTHING = 1e-9;
    /** Cells that a side is drawn out by on both sides, where features allow it. */
    private static final int LEAST_REACH = 6;
    /** By so many edges tiles differ that cut the same grating in different places. */
    private static final double CUT_EDGES = 2 + 1e-6;
    /** Ratio of squeeze moments below which that may be so. */
    private static final double CUT_MOMENT = 3;
    /** Ratio of edge lengths up to which tiles with many edges are taken for the same field. */
    private static final double ALIKE = 1.25;

    private final TileGrid grid;
    private final int perTile;
    private final double[] land;
    private final double[] pitch;
    private final double[] moment;
    private final boolean repeats;

    final double[] fraction;
    final double[] depthTimesFraction;
    final double[] edges;

    /**
     * Evens out cavities and their edges.
     *
     * @param land share of land in every cell of a {@link LandNetwork}, row 0 first
     * @param cavity share of each tile, and its volume per area in m
     * @param edgePerMetre length of the cavities' edges over area in each tile
     * @param pitch of the features in each tile, m; 0 where they are not to be evened out
     * @param moment squeeze moment of each tile alone
     */
    CutFeatures(
            TileGrid grid,
            double[] land,
            double[] cavity,
            double[] volume,
            double[] edgePerMetre,
            double[] pitch,
            double[] moment,
            boolean repeats) {
        this.grid = grid;
        perTile = LandNetwork.cellsPerTile(grid);
        this.land = land;
        this.pitch = pitch;
        this.moment = moment;
        this.repeats = repeats;
        double[] cavities = new double[land.length];
        for (int i = 0; i < cavities.length; i++) {
            cavities[i] = 1 - land[i];
        }
        fraction = even(cavity, cavities, false);
        depthTimesFraction = even(volume, cavities, false);
        edges = even(edgePerMetre, edges());
        for (int i = 0; i < fraction.length; i++) {
            if (!(fraction[i] > NOTHING && fraction[i] < 1 - NOTHING && depthTimesFraction[i] > 0)) {
                fraction[i] = cavity[i];
                depthTimesFraction[i] = volume[i];
                edges[i] = edgePerMetre[i];
            }
        }
    }

    /** Returns where the edges are: the change of land from each cell to its neighbours. */
    private double[] edges() {
        int columns = grid.columns() * perTile;
        int rows = grid.rows() * perTile;
        double[] edge = new double[land.length];
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int right = column + 1 < columns ? i + 1 : repeats ? i + 1 - columns : i;
                int above = row + 1 < rows ? i + columns : repeats ? column : i;
                double acrossX = Math.abs(land[i] - land[right]);
                double acrossY = Math.abs(land[i] - land[above]);
                edge[i] += acrossX + acrossY;
                edge[right] += acrossX;
                edge[above] += acrossY;
            }
        }
        return edge;
    }

    /**
     * Returns what tiles hold once their sides are drawn out, but for those at the rim of a field.
     *
     * @param held by each tile
     * @param cells how it is spread over the cells, to any scale; where a tile's are all 0 it keeps what it holds
     */
    double[] even(double[] held, double[] cells) {
        return even(held, cells, true);
    }

    private double[] even(double[] held, double[] cells, boolean alikeOnly) {
        double[] sums = new double[held.length];
        int columns = grid.columns() * perTile;
        for (int row = 0; row < grid.rows() * perTile; row++) {
            int cell = row * columns;
            for (int column = 0; column < grid.columns(); column++) {
                int tile = row / perTile * grid.columns() + column;
                double sum = sums[tile];
                for (int n = 0; n < perTile; n++) {
                    sum += cells[cell++];
                }
                sums[tile] = sum;
            }
        }
        double[] evened = held.clone();
        for (int tile = 0; tile < held.length; tile++) {
            if (!alikeOnly || cuts(tile, right(tile))) {
                exchange(tile, right(tile), false, held, cells, sums, evened);
            }
            if (!alikeOnly || cuts(tile, above(tile))) {
                exchange(tile, above(tile), true, held, cells, sums, evened);
            }
        }
        return evened;
    }

    private int right(int tile) {
        int column = grid.column(tile);
        return repeats || column + 1 < grid.columns()
                ? grid.index((column + 1) % grid.columns(), grid.row(tile))
                : tile;
    }

    private int above(int tile) {
        int row = grid.row(tile);
        return repeats || row + 1 < grid.rows() ? grid.index(grid.column(tile), (row + 1) % grid.rows()) : tile;
    }

    /** Returns whether the side between two neighbours cuts features finer than a tile, of which each side gets its part. */
    boolean cuts(int here, int there) {
        return period(here, there) > 0 && areAlike(here, there);
    }

    /** Pitch of the features on both sides in cells; 0 where they are not evened out. */
    private double period(int here, int there) {
        if (here == there || pitch[here] == 0 || pitch[there] == 0) {
            return 0;
        }
        double side = grid.pitchMetres();
        // One edge more or less in a tile tells a wrong pitch; in two tiles it matters half as much.
        double common = 2 / (1 / pitch[here] + 1 / pitch[there]);
        double period = (areAlike(here, there) ? common : Math.min(pitch[here], pitch[there])) / side * perTile;
        return period > perTile * (1 + NOTHING) ? 0 : period;
    }

    /** Returns whether two tiles may hold the same features, cut in different places; at the rim of a field they do not. */
    private boolean areAlike(int here, int there) {
        double edgesHere = 2 * grid.pitchMetres() / pitch[here];
        double edgesThere = 2 * grid.pitchMetres() / pitch[there];
        boolean sameMoment = Math.max(moment[here], moment[there]) < CUT_MOMENT * Math.min(moment[here], moment[there]);
        return sameMoment
                && (Math.abs(edgesHere - edgesThere) < CUT_EDGES
                        || Math.max(edgesHere, edgesThere) < ALIKE * Math.min(edgesHere, edgesThere));
    }

    private void exchange(
            int here, int there, boolean up, double[] held, double[] cells, double[] sums, double[] evened) {
        double period = period(here, there);
        if (period == 0 || !(sums[here] > 0) || !(sums[there] > 0)) {
            return;
        }
        boolean alike = areAlike(here, there);
        // Cells no finer than the features tell little of where these are cut: a few periods at once tell more.
        double periods = Math.max(1, Math.min(Math.ceil(LEAST_REACH / period), Math.floor(perTile / 2.0 / period)));
        double reach = alike ? Math.min(perTile, periods * period) : period / 2;
        double out = 0;
        double in = 0;
        for (int depth = 0; depth < reach; depth++) {
            // The mean of (1 - x/reach)²/2 over the cell, which may reach beyond the end of the way; at a rim of (1 -
            // x/reach)/2.
            double near = 1 - depth / reach;
            double far = Math.max(0, 1 - (depth + 1) / reach);
            double share =
                    alike ? reach * (near * near * near - far * far * far) / 6 : reach * (near * near - far * far) / 4;
            for (int n = 0; n < perTile; n++) {
                out += share * cells[cell(here, up, n, perTile - 1 - depth)];
                in += share * cells[cell(there, up, n, depth)];
            }
        }
        double moved = in / sums[there] * held[there] - out / sums[here] * held[here];
        evened[here] += moved;
        evened[there] -= moved;
    }

    private int cell(int tile, boolean up, int along, int across) {
        int column = grid.column(tile) * perTile + (up ? along : across);
        int row = grid.row(tile) * perTile + (up ? across : along);
        return row * grid.columns() * perTile + column;
    }
}
