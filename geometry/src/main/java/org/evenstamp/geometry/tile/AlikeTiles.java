package org.evenstamp.geometry.tile;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Stepped;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;

/**
 * Which tiles of a stepped layout look alike: the same dies, turned alike, lie at the same places relative to the tile and to the
 * tiles around it. One tile of each kind is measured, and stands for the others.
 *
 * <p>So a die is measured once for each way in which it meets the tiles, its phase, and once more where its rim sees another
 * neighbour. Tiles at the rim of the map stand for themselves, as they also see what lies around the stamp.
 */
final class AlikeTiles {
    /** A measure of a tile looks at the tile and its eight neighbours; a thousandth more for rounding. */
    private static final double REACH = 1.001;
    /** Phases closer than this share of a tile are one. */
    private static final double PHASES = 1e9;

    private final TileGrid grid;
    /** For every tile the one that is measured for it; null where every tile is. */
    private final int @Nullable [] like;
    /** For every corner of the grid how many measured tiles lie left of it and below. */
    private final int[] below;

    private AlikeTiles(TileGrid grid, int @Nullable [] like) {
        this.grid = grid;
        this.like = like;
        this.below = like == null ? new int[0] : below(grid, like);
    }

    /** Returns that every tile is measured. */
    static AlikeTiles none(TileGrid grid) {
        return new AlikeTiles(grid, null);
    }

    /** What a tile sees: for each die near it, which phase and turn, and where its first tile lies from here. */
    private static final class Sight {
        private final long[] dies;

        Sight(long[] dies) {
            this.dies = dies;
        }

        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Sight sight && Arrays.equals(dies, sight.dies);
        }

        @Override
        public int hashCode() {
            return Arrays.hashCode(dies);
        }
    }

    private record Phase(long x, long y, boolean mirrored, int turns) {}

    /**
     * Compares the tiles.
     *
     * @param box left, lower, right and upper end of the relief as the layout is drawn
     * @param poses how its copies lie
     */
    static AlikeTiles of(TileGrid grid, double[] box, List<Pose> poses) {
        double pitch = grid.pitchMetres();
        int size = grid.size();
        Map<Phase, Integer> phases = new HashMap<>();
        int[] counts = new int[size + 1];
        int[][] windows = new int[poses.size()][];
        long[] marks = new long[poses.size()];
        for (int i = 0; i < poses.size(); i++) {
            Pose pose = poses.get(i);
            double x = (pose.shiftXMetres() - grid.originXMetres()) / pitch;
            double y = (pose.shiftYMetres() - grid.originYMetres()) / pitch;
            long column = Math.round(Math.floor(x + 0.5 / PHASES));
            long row = Math.round(Math.floor(y + 0.5 / PHASES));
            int phase = phases.computeIfAbsent(
                    new Phase(
                            Math.round((x - column) * PHASES),
                            Math.round((y - row) * PHASES),
                            pose.mirroredX(),
                            pose.quarterTurns()),
                    key -> phases.size());
            double[] here = box.clone();
            pose.applyToBox(here);
            windows[i] = new int[] {
                clamp(Math.floor((here[0] - grid.originXMetres()) / pitch - REACH), grid.columns()),
                clamp(Math.floor((here[2] - grid.originXMetres()) / pitch + REACH) + 1, grid.columns()),
                clamp(Math.floor((here[1] - grid.originYMetres()) / pitch - REACH), grid.rows()),
                clamp(Math.floor((here[3] - grid.originYMetres()) / pitch + REACH) + 1, grid.rows())
            };
            // Differences of columns and of rows have 20 bits and a sign each, which is more than a map has.
            marks[i] = ((long) phase << 44) - (column << 22) - row;
            for (int r = windows[i][2]; r < windows[i][3]; r++) {
                for (int c = windows[i][0]; c < windows[i][1]; c++) {
                    counts[grid.index(c, r) + 1]++;
                }
            }
        }
        for (int tile = 0; tile < size; tile++) {
            counts[tile + 1] = Math.addExact(counts[tile], counts[tile + 1]);
        }
        long[] seen = new long[counts[size]];
        int[] next = Arrays.copyOf(counts, size);
        for (int i = 0; i < marks.length; i++) {
            for (int r = windows[i][2]; r < windows[i][3]; r++) {
                for (int c = windows[i][0]; c < windows[i][1]; c++) {
                    seen[next[grid.index(c, r)]++] = marks[i] + ((long) c << 22) + r;
                }
            }
        }
        return new AlikeTiles(grid, compare(grid, counts, seen));
    }

    private static int[] compare(TileGrid grid, int[] start, long[] seen) {
        int[] like = new int[grid.size()];
        Map<Sight, Integer> first = new HashMap<>();
        for (int row = 0; row < grid.rows(); row++) {
            for (int column = 0; column < grid.columns(); column++) {
                int tile = grid.index(column, row);
                boolean rim = row == 0 || column == 0 || row == grid.rows() - 1 || column == grid.columns() - 1;
                if (rim) {
                    like[tile] = tile;
                } else {
                    Integer before =
                            first.putIfAbsent(new Sight(Arrays.copyOfRange(seen, start[tile], start[tile + 1])), tile);
                    like[tile] = before == null ? tile : before;
                }
            }
        }
        return like;
    }

    private static int clamp(double index, int count) {
        return (int) Math.max(0, Math.min(count, index));
    }

    private static int[] below(TileGrid grid, int[] like) {
        int across = grid.columns() + 1;
        int[] below = new int[across * (grid.rows() + 1)];
        for (int row = 0; row < grid.rows(); row++) {
            for (int column = 0; column < grid.columns(); column++) {
                int tile = grid.index(column, row);
                int at = (row + 1) * across + column + 1;
                below[at] = below[at - 1] + below[at - across] - below[at - across - 1] + (like[tile] == tile ? 1 : 0);
            }
        }
        return below;
    }

    /** Returns whether a tile is measured, and not taken from another. */
    boolean measured(int tile) {
        return like == null || like[tile] == tile;
    }

    /** Returns how many tiles are measured. */
    int count() {
        return like == null ? grid.size() : below[below.length - 1];
    }

    /** Returns what of the stepped layout has to be looked at: what lies in a measured tile or in one of its neighbours. */
    Stepped.Wanted wanted() {
        if (like == null) {
            return Stepped.Wanted.ALL;
        }
        double pitch = grid.pitchMetres();
        int across = grid.columns() + 1;
        return (minX, minY, maxX, maxY) -> {
            int left = clamp(Math.floor((minX - grid.originXMetres()) / pitch - REACH), grid.columns());
            int right = clamp(Math.floor((maxX - grid.originXMetres()) / pitch + REACH) + 1, grid.columns());
            int low = clamp(Math.floor((minY - grid.originYMetres()) / pitch - REACH), grid.rows());
            int high = clamp(Math.floor((maxY - grid.originYMetres()) / pitch + REACH) + 1, grid.rows());
            return below[high * across + right]
                            - below[high * across + left]
                            - below[low * across + right]
                            + below[low * across + left]
                    > 0;
        };
    }

    /** Gives every tile the value of the one that was measured for it. */
    void spread(double[] values) {
        if (like != null) {
            for (int tile = 0; tile < values.length; tile++) {
                values[tile] = values[like[tile]];
            }
        }
    }

    /** Gives the cells of every tile what was summed in the tile that was measured for it. */
    void spread(CoverageSums sums, int cellsPerTile) {
        if (like == null) {
            return;
        }
        sums.spread(cell -> {
            int column = cell % (grid.columns() * cellsPerTile);
            int row = cell / (grid.columns() * cellsPerTile);
            int from = like[grid.index(column / cellsPerTile, row / cellsPerTile)];
            return (grid.row(from) * cellsPerTile + row % cellsPerTile) * grid.columns() * cellsPerTile
                    + grid.column(from) * cellsPerTile
                    + column % cellsPerTile;
        });
    }

    /** Says for a person how many tiles were measured; empty where all were. */
    String words() {
        return like == null
                ? ""
                : "; " + count() + " of " + grid.size() + " tiles measured, the others are like one of them";
    }
}
