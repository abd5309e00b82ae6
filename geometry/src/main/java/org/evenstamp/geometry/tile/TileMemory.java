package org.evenstamp.geometry.tile;

import java.util.Locale;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;

/** Refuses tiles that do not fit into memory before anything is made for them. */
final class TileMemory {
    /** What the tile map itself takes for a tile, measured: 0.9 kB on two threads. */
    private static final long MAP_BYTES = 850;
    /** What every thread's sums take for a tile. */
    private static final long THREAD_BYTES = 24;
    /** What the program takes before there are tiles, measured. */
    private static final long PROGRAM_BYTES = 30L << 20;

    private TileMemory() {}

    /**
     * Returns when the tiles are likely to fit.
     *
     * @param moreBytes what else will be kept for every tile
     * @param heapBytes the memory that Java may use
     * @throws InputException naming the tile side that would fit
     */
    static void check(TileGrid grid, int threads, long moreBytes, long heapBytes) {
        long bytes = MAP_BYTES + THREAD_BYTES * threads + moreBytes;
        double needed = (double) grid.size() * bytes + PROGRAM_BYTES;
        if (needed <= heapBytes) {
            return;
        }
        double fitting = (double) Math.max(1, heapBytes - PROGRAM_BYTES) / bytes;
        double side = grid.pitchMetres() * Math.sqrt(grid.size() / fitting);
        throw new InputException(
                "tiles.memory",
                "tiles.side",
                String.format(
                        Locale.ROOT,
                        "%d x %d tiles of %.4g um need about %.0f MB of memory, Java may use %.0f MB",
                        grid.columns(),
                        grid.rows(),
                        grid.pitchMetres() * 1e6,
                        needed / (1 << 20),
                        (double) heapBytes / (1 << 20)),
                String.format(
                        Locale.ROOT,
                        "a side of %.3g um or more fits; or set EVENSTAMP_JAVA_OPTS=-Xmx%.0fm or more",
                        side * 1.01e6,
                        Math.ceil(needed * 1.1 / (1 << 20))));
    }
}
