package org.evenstamp.geometry.fill;

import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;

/**
 * All sites of one dummy on the stamp, in steps, mirrored onto themselves about the stamp's centre. Site (row, column) is the
 * centre of a dummy; rows and columns count from 0.
 */
final class Lattice {
    // The two numbers of the golden ratio's counterpart in the plane, 1/p and 1/p^2 with p^3 = p + 1, as fractions of
    // 2^64:
    // multiples of them fill the unit interval evenly, wherever one looks on the lattice.
    private static final long ALONG_X = 0xC13FA9A902A6328FL;
    private static final long ALONG_Y = 0x91E10DA5C79E7B1CL;

    final Template template;
    final int rows;
    final int columns;
    /** Step from column to column. */
    final long stepX;

    private final long stepY;
    private final long centreX;
    private final long centreY;
    private final boolean shifted;
    private final boolean folded;
    private final int middleRow;
    private final int middleColumn;
    /** Whether the sites of an even, of an odd row sit half a step right of the middle. */
    private final int[] columnPhase = new int[2];

    private final int rowPhase;
    /** The tile column of each column in even and in odd rows, -1 where a dummy would cross a tile's or the stamp's border. */
    private final int[][] tileColumn = new int[2][];

    private final int[] tileRow;

    /** Which rows, and which columns of even and odd rows, first lie in each tile, and where they end. */
    private final int[][] rowsOfTile;

    private final int[][][] columnsOfTile = new int[2][][];

    Lattice(DummyRules rules, DummyShape shape, MapOptions.Outline outline, TileGrid grid) {
        template = new Template(shape);
        folded = rules.symmetric();
        shifted = rules.arrangement() != DummyRules.Arrangement.SQUARE;
        long gap = Math.max(1, Steps.up(rules.gapMetres()));
        stepX = even(2 * template.halfX + gap);
        stepY = even(
                2 * template.halfY + gap - (rules.arrangement() == DummyRules.Arrangement.HEXAGONAL ? nested(gap) : 0));
        long rim = Steps.up(rules.rimMetres());
        long minX = Steps.up(outline.minX());
        long maxX = Steps.down(outline.maxX());
        long minY = Steps.up(outline.minY());
        long maxY = Steps.down(outline.maxY());
        centreX = Math.floorDiv(minX + maxX, 2);
        centreY = Math.floorDiv(minY + maxY, 2);
        middleColumn = Math.toIntExact((maxX - minX) / (2 * stepX) + 1);
        middleRow = Math.toIntExact((maxY - minY) / (2 * stepY) + 1);
        columns = 2 * middleColumn + 1;
        rows = 2 * middleRow + 1;

        double[] bordersX = borders(grid.originXMetres(), grid.pitchMetres(), grid.columns());
        double[] bordersY = borders(grid.originYMetres(), grid.pitchMetres(), grid.rows());
        Axis x = new Axis(centreX, stepX, middleColumn, template.halfX, minX + rim, maxX - rim, bordersX);
        Axis y = new Axis(centreY, stepY, middleRow, template.halfY, minY + rim, maxY - rim, bordersY);
        // Rows shifted in turn are mirrored onto themselves about a row only, not about the gap between two.
        rowPhase = shifted || y.fitting(0) > y.fitting(1) ? 0 : 1;
        columnPhase[0] = x.fitting(0) > x.fitting(1) ? 0 : 1;
        columnPhase[1] = shifted ? 1 - columnPhase[0] : columnPhase[0];
        tileRow = y.tiles(rowPhase);
        rowsOfTile = stretches(tileRow, grid.rows());
        for (int odd = 0; odd < 2; odd++) {
            tileColumn[odd] = x.tiles(columnPhase[odd]);
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
        double beside = Math.max(0, half - 2 * template.halfX);
        return (long) Math.floor(gap - Math.sqrt((double) gap * gap - Math.min(beside * beside, (double) gap * gap)));
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

    /** One direction: where sites lie, and in which tiles. Phase 1 is half a step beyond phase 0. */
    private record Axis(long centre, long step, int middle, long half, long from, long to, double[] borders) {

        int[] tiles(int phase) {
            int[] tiles = new int[2 * middle + 1];
            int tile = 0;
            for (int i = 0; i < tiles.length; i++) {
                long low = position(centre, step, middle, phase, i) - half;
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
            long count = 0;
            for (int tile : tiles(phase)) {
                count += tile >= 0 ? 1 : 0;
            }
            return count;
        }
    }

    private static long position(long centre, long step, int middle, int phase, int index) {
        return centre + (2L * (index - middle) + phase) * (step / 2);
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

    /** Returns whether every second row is half a step off, as a number to index by: 1 for those rows. */
    private int odd(int row) {
        return (row - middleRow) & 1;
    }

    long x(int row, int column) {
        return position(centreX, stepX, middleColumn, columnPhase[odd(row)], column);
    }

    long y(int row) {
        return position(centreY, stepY, middleRow, rowPhase, row);
    }

    /** Returns the first row whose sites lie at {@code y} or above, from 0 to {@link #rows}. */
    int rowFrom(double y) {
        return clamp(Math.ceil((y - y(0)) / stepY), rows);
    }

    /** Returns the first column whose site lies at {@code x} or right of it, from 0 to {@link #columns}. */
    int columnFrom(int row, double x) {
        return clamp(Math.ceil((x - x(row, 0)) / stepX), columns);
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
        long m = 2L * (column - middleColumn) + columnPhase[odd(row)];
        long n = 2L * (row - middleRow) + rowPhase;
        return folded ? spread(Math.abs(m), Math.abs(n)) : spread(m, n);
    }

    /** Returns an unsigned number for a point, given in half steps: points below any bound are spread evenly. */
    static long spread(long m, long n) {
        return m * (ALONG_X >>> 1) + n * (ALONG_Y >>> 1);
    }
}
