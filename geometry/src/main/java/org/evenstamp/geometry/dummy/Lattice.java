package org.evenstamp.geometry.dummy;

import java.util.Arrays;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;

/**
 * All sites of one dummy on the stamp, in steps, mirrored onto themselves about the stamp's centre. Site (row, column) is the
 * centre of a dummy; rows and columns count from 0.
 */
final class Lattice {
    // The golden ratio's counterparts in the plane, 1/p and 1/p^2 with p^3 = p + 1, as fractions of 2^64: sums of their
    // multiples fill the unit interval evenly, wherever one looks on the lattice.
    private static final long ALONG_X = 0xC13FA9A902A6328FL;
    private static final long ALONG_Y = 0x91E10DA5C79E7B1CL;

    final Template template;
    final int rows;
    final int columns;
    private final Axis alongX;
    private final Axis alongY;
    private final boolean folded;
    /** Phases of the columns in even and in odd rows. */
    private final int[] columnPhase = new int[2];

    private final int rowPhase;
    /** The tile column of each column in even and in odd rows, or -1. */
    private final int[][] tileColumn = new int[2][];

    private final int[] tileRow;

    /** Which rows, and which columns of even and odd rows, first lie in each tile, and where they end. */
    private final int[][] rowsOfTile;

    private final int[][][] columnsOfTile = new int[2][][];

    Lattice(DummyRules rules, DummyShape shape, MapOptions.Outline outline, TileGrid grid) {
        template = new Template(shape);
        folded = rules.symmetric();
        boolean shifted = rules.arrangement() != DummyRules.Arrangement.SQUARE;
        long gap = Math.max(1, Steps.up(rules.gapMetres()));
        long nested = rules.arrangement() == DummyRules.Arrangement.HEXAGONAL ? nested(gap) : 0;
        long rim = Steps.up(rules.rimMetres());
        alongX = new Axis(
                even(2 * template.halfX + gap),
                template.halfX,
                rim,
                outline.minX(),
                outline.maxX(),
                borders(grid.originXMetres(), grid.pitchMetres(), grid.columns()));
        alongY = new Axis(
                even(2 * template.halfY + gap - nested),
                template.halfY,
                rim,
                outline.minY(),
                outline.maxY(),
                borders(grid.originYMetres(), grid.pitchMetres(), grid.rows()));
        columns = alongX.sites();
        rows = alongY.sites();
        // Rows shifted in turn are mirrored onto themselves about a row only, not about the gap between two.
        rowPhase = shifted || alongY.fitting(0) > alongY.fitting(1) ? 0 : 1;
        columnPhase[0] = alongX.fitting(0) > alongX.fitting(1) ? 0 : 1;
        columnPhase[1] = shifted ? 1 - columnPhase[0] : columnPhase[0];
        tileRow = alongY.tiles(rowPhase);
        rowsOfTile = stretches(tileRow, grid.rows());
        for (int odd = 0; odd < 2; odd++) {
            tileColumn[odd] = alongX.tiles(columnPhase[odd]);
            columnsOfTile[odd] = stretches(tileColumn[odd], grid.columns());
        }
    }

    /** How much nearer rows may come when each is shifted by half a step: dummies then stand side by side, or diagonally. */
    private long nested(long gap) {
        double half = even(2 * template.halfX + gap) / 2.0;
        if (template.round) {
            double reach = 2.0 * template.halfX + gap;
            return (long) Math.floor(reach - Math.sqrt(reach * reach - half * half));
        }
        double beside = Math.max(0, half - 2.0 * template.halfX); // less than half the gap
        return (long) Math.floor(gap - Math.sqrt((double) gap * gap - beside * beside));
    }

    private static long even(long steps) {
        return steps + (steps & 1);
    }

    private static double[] borders(double origin, double pitch, int tiles) {
        double[] borders = new double[tiles + 1];
        for (int i = 0; i <= tiles; i++) {
            borders[i] = Steps.of(origin + i * pitch);
        }
        return borders;
    }

    /** One direction: where sites lie, and in which tiles. Phase 1 is half a step beyond phase 0, whose middle site is central. */
    private static final class Axis {
        private final long centre;
        private final long step;
        private final int middle;
        private final long half;
        private final long from;
        private final long to;
        private final double[] borders;

        /**
         * Lays sites between two ends of the stamp.
         *
         * @param half half of a dummy's extent
         * @param rim distance of dummies from the ends
         * @param borders ends of the tiles, ascending
         */
        Axis(long step, long half, long rim, double fromMetres, double toMetres, double[] borders) {
            this.step = step;
            this.half = half;
            this.borders = borders;
            long low = Steps.up(fromMetres);
            long high = Steps.down(toMetres);
            centre = Math.floorDiv(low + high, 2);
            middle = Math.toIntExact((high - low) / (2 * step) + 1);
            from = low + rim;
            to = high - rim;
        }

        int sites() {
            return 2 * middle + 1;
        }

        long position(int phase, int index) {
            return centre + doubled(phase, index) * (step / 2);
        }

        /** The distance from the centre in half steps. */
        long doubled(int phase, int index) {
            return 2L * (index - middle) + phase;
        }

        /** The tile of each site, -1 where a dummy would cross a border. */
        int[] tiles(int phase) {
            int[] tiles = new int[sites()];
            int tile = 0;
            for (int i = 0; i < tiles.length; i++) {
                long low = position(phase, i) - half;
                long high = low + 2 * half;
                while (tile < borders.length - 2 && borders[tile + 1] <= low) {
                    tile++;
                }
                boolean fits = low >= from && high <= to && low >= borders[tile] && high <= borders[tile + 1];
                tiles[i] = fits ? tile : -1;
            }
            return tiles;
        }

        long fitting(int phase) {
            return Arrays.stream(tiles(phase)).filter(tile -> tile >= 0).count();
        }
    }

    /** For each tile the first of its indices and the one after its last. */
    private static int[][] stretches(int[] tileOf, int tiles) {
        int[][] stretches = new int[tiles][2];
        for (int i = 0; i < tileOf.length; i++) {
            if (tileOf[i] >= 0) {
                int[] stretch = stretches[tileOf[i]];
                if (stretch[1] == 0) {
                    stretch[0] = i;
                }
                stretch[1] = i + 1;
            }
        }
        return stretches;
    }

    /** Returns 1 for every second row from the middle, else 0. */
    private int odd(int row) {
        return (row - alongY.middle) & 1;
    }

    long x(int row, int column) {
        return alongX.position(columnPhase[odd(row)], column);
    }

    long y(int row) {
        return alongY.position(rowPhase, row);
    }

    /** Returns the first row whose sites lie at {@code y} or above, from 0 to {@link #rows}. */
    int rowFrom(double y) {
        return clamp(Math.ceil((y - y(0)) / alongY.step), rows);
    }

    /** Returns the first column whose site lies at {@code x} or right of it, from 0 to {@link #columns}. */
    int columnFrom(int row, double x) {
        return clamp(Math.ceil((x - x(row, 0)) / alongX.step), columns);
    }

    private static int clamp(double index, int end) {
        return (int) Math.max(0, Math.min(end, index));
    }

    boolean within(int row) {
        return tileRow[row] >= 0;
    }

    boolean within(int row, int column) {
        return tileRow[row] >= 0 && tileColumn[odd(row)][column] >= 0;
    }

    /** Returns the first row within a tile row and the one after the last. */
    int[] rowsOf(int tileRow) {
        return rowsOfTile[tileRow];
    }

    /** Returns the first column of a row within a tile column and the one after the last. */
    int[] columnsOf(int row, int tileColumn) {
        return columnsOfTile[odd(row)][tileColumn];
    }

    /**
     * Returns the place of a site in the order in which sites are taken, as an unsigned number: those below any bound are
     * spread evenly. Where mirror images have to be alike they have the same place; else no two nearby sites have.
     */
    long order(int row, int column) {
        long m = alongX.doubled(columnPhase[odd(row)], column);
        long n = alongY.doubled(rowPhase, row);
        return folded ? spread(Math.abs(m), Math.abs(n)) : spread(m, n);
    }

    /** Returns an unsigned number for a point, given in half steps: points below any bound are spread evenly. */
    static long spread(long m, long n) {
        return m * (ALONG_X >>> 1) + n * (ALONG_Y >>> 1);
    }
}
