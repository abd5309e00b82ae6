package org.evenstamp.geometry.tile;

import org.evenstamp.shared.grid.TileGrid;

/**
 * Cavity shares and volumes of tiles as film sees them that finds its way within half a feature pitch: where a side of a tile
 * cuts fine features, the share of the tile jumps with the place of the cut, by half a feature, though in the cut cavity film
 * flows freely.
 *
 * <p>Each side becomes a ramp one pitch wide: a tile's window is its square drawn out by a mean over one period, under which a
 * grating looks even. What one tile loses its neighbour gains.
 */
final class CutFeatures {
    private static final double NOTHING = 1e-9;

    private final TileGrid grid;
    private final int perTile;
    private final double[] land;
    private final double[] cavity;
    private final double[] volume;
    private final double[] pitch;

    final double[] fraction;
    final double[] depthTimesFraction;

    /**
     * Evens out.
     *
     * @param land share of land in every cell, row 0 first, {@code perTile} along a tile
     * @param cavity share of each tile, and its volume per area in m
     * @param pitch of the features in each tile, m; 0 where they are not to be evened out
     */
    CutFeatures(
            TileGrid grid,
            int perTile,
            double[] land,
            double[] cavity,
            double[] volume,
            double[] pitch,
            boolean repeats) {
        this.grid = grid;
        this.perTile = perTile;
        this.land = land;
        this.cavity = cavity;
        this.volume = volume;
        this.pitch = pitch;
        fraction = cavity.clone();
        depthTimesFraction = volume.clone();
        for (int row = 0; row < grid.rows(); row++) {
            for (int column = 0; column < grid.columns(); column++) {
                int tile = grid.index(column, row);
                if (repeats || column + 1 < grid.columns()) {
                    exchange(tile, grid.index((column + 1) % grid.columns(), row), false);
                }
                if (repeats || row + 1 < grid.rows()) {
                    exchange(tile, grid.index(column, (row + 1) % grid.rows()), true);
                }
            }
        }
        for (int i = 0; i < fraction.length; i++) {
            if (!(fraction[i] > NOTHING && fraction[i] < 1 - NOTHING && depthTimesFraction[i] > 0)) {
                fraction[i] = cavity[i];
                depthTimesFraction[i] = volume[i];
            }
        }
    }

    private void exchange(int here, int there, boolean up) {
        double period = Math.min(pitch[here], pitch[there]); // at the rim of a field the field's own
        if (here == there || pitch[here] == 0 || pitch[there] == 0 || period > grid.pitchMetres()) {
            return;
        }
        double reach = period / 2 / grid.pitchMetres() * perTile; // in cells
        double out = 0;
        double in = 0;
        for (int n = 0; n < perTile; n++) {
            for (int depth = 0; depth < reach; depth++) {
                // The mean of the ramp over the cell, which may reach beyond its end.
                double end = Math.min(reach, depth + 1.0);
                double share = ((end - depth) - (end * end - depth * (double) depth) / (2 * reach)) / 2;
                out += share * (1 - cell(here, up, n, perTile - 1 - depth));
                in += share * (1 - cell(there, up, n, depth));
            }
        }
        double cells = perTile * (double) perTile;
        double given = out / cells;
        double taken = in / cells;
        fraction[here] += taken - given;
        fraction[there] += given - taken;
        double volumeMoved = taken * volume[there] / cavity[there] - given * volume[here] / cavity[here];
        depthTimesFraction[here] += volumeMoved;
        depthTimesFraction[there] -= volumeMoved;
    }

    private double cell(int tile, boolean up, int along, int across) {
        int column = grid.column(tile) * perTile + (up ? along : across);
        int row = grid.row(tile) * perTile + (up ? across : along);
        return land[row * grid.columns() * perTile + column];
    }
}
