package org.evenstamp.geometry.tile;

import java.util.List;
import org.evenstamp.shared.grid.TileGrid;

/** Which pictures the drawn land of each tile is looked at in, and how fine they are. */
final class PictureChoice {
    private static final double CELLS_PER_PITCH = 10;
    /** Cells across the narrower of land and cavity, wanted unless it takes more than twice the cells a pitch. */
    private static final double CELLS_PER_FEATURE = 6;
    /** Pictures cells that {@link MapOptions.Structure#AUTO} is ready to solve: some seconds. */
    private static final double AUTO_CELLS = 5e7;

    private static final double NOTHING = TileSums.NOTHING;

    private final TileSums sums;
    private final TileGrid grid;
    /** Edge of the drawn features over the area that is no texture, 1/m. */
    final double[] edgeDensity;

    PictureChoice(TileSums sums) {
        this.sums = sums;
        grid = sums.grid;
        int size = grid.size();
        edgeDensity = new double[size];
        for (int i = 0; i < size; i++) {
            double share = 1 - sums.texturedShare(i);
            edgeDensity[i] = share > NOTHING ? sums.drawnEdge[i] / (share * grid.tileAreaSquareMetres()) : 0;
        }
    }

    /** Returns how a tile is looked at. */
    Fineness look(int tile) {
        if (sums.drawnLand[tile] <= NOTHING) {
            return Fineness.NONE;
        }
        if (sums.drawnEdge[tile] <= NOTHING * grid.pitchMetres()) {
            return sums.cavity[tile] > NOTHING ? Fineness.COARSE : Fineness.FAR;
        }
        double pitch = 2 / edgeDensity[tile] * (1 + NOTHING);
        for (Fineness look : List.of(Fineness.COARSE, Fineness.MEDIUM, Fineness.FINE)) {
            if (pitch / CELLS_PER_PITCH >= grid.pitchMetres() / look.perTile) {
                return look;
            }
        }
        return Fineness.SAMPLED;
    }

    /** Returns the cell of a sampling picture in metres. */
    double sampleCell(int tile) {
        double pitch = 2 / edgeDensity[tile];
        double land = Math.min(1, sums.drawnLand[tile] / (1 - sums.texturedShare(tile)));
        double narrower = 2 * pitch * Math.min(land, 1 - land);
        return Math.max(pitch / CELLS_PER_PITCH / 2, Math.min(pitch / CELLS_PER_PITCH, narrower / CELLS_PER_FEATURE));
    }

    /** Returns how many picture cells a solve would take. */
    double cells(AlikeTiles alike) {
        double cells = 0;
        for (int i = 0; i < grid.size(); i++) {
            Fineness look = alike.measured(i) ? look(i) : Fineness.NONE;
            cells += (double) look.cells * look.cells * (look == Fineness.SAMPLED ? 5 : 1);
        }
        return cells;
    }

    /** Returns whether so many cells take no more than some seconds. */
    static boolean affordable(double pictureCells) {
        return pictureCells <= AUTO_CELLS;
    }
}
