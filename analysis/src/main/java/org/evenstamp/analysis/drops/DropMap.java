package org.evenstamp.analysis.drops;

/**
 * Whole drops on a raster, so that each place gets the volume it needs: error diffusion (Floyd and Steinberg, Proc. SID 17
 * (1976) 75, quoted from memory) in rows that run to and fro.
 *
 * <p>A site gets the whole number of drops nearest to its need and what came over from its neighbours; the rest, half a drop at
 * most, goes on to the next site of the row and to three of the row above, in the shares 7, 3, 5 and 1 of 16, or of what there
 * is of them at the raster's rim. Nothing is lost, so the total is right to half a drop, and a rectangle of a x b sites is right
 * to a + b drops, however small the need of a site.
 *
 * <p>Site (column, row) is at index {@code row * columns + column}, row 0 the lowest. Immutable.
 */
public final class DropMap {
    private final int columns;
    private final int rows;
    private final int[] drops;
    private final long total;

    private DropMap(int columns, int rows, int[] drops) {
        this.columns = columns;
        this.rows = rows;
        this.drops = drops;
        long sum = 0;
        for (int count : drops) {
            sum += count;
        }
        total = sum;
    }

    /** Says how much a site needs. */
    @FunctionalInterface
    public interface Need {
        /** Returns the need of a site in drops, finite and not negative. */
        double drops(int column, int row);
    }

    /**
     * Places drops.
     *
     * @throws IllegalArgumentException when a need is negative, not finite or more than a million drops
     */
    public static DropMap of(int columns, int rows, Need need) {
        if (columns < 1 || rows < 1 || (long) columns * rows > Integer.MAX_VALUE - 8) {
            throw new IllegalArgumentException("a raster of " + columns + " x " + rows + " sites is not possible");
        }
        int[] drops = new int[columns * rows];
        double[] here = new double[columns];
        double[] above = new double[columns];
        for (int row = 0; row < rows; row++) {
            int ahead = row % 2 == 0 ? 1 : -1;
            boolean top = row == rows - 1;
            for (int i = 0; i < columns; i++) {
                int column = ahead > 0 ? i : columns - 1 - i;
                double wanted = need.drops(column, row);
                if (!(wanted >= 0 && wanted <= 1e6)) {
                    throw new IllegalArgumentException("site " + column + ", " + row + " needs " + wanted + " drops");
                }
                double value = wanted + here[column];
                int count = (int) Math.max(0, Math.rint(value));
                drops[row * columns + column] = count;
                boolean next = i < columns - 1;
                pass(value - count, column, ahead, next, i > 0, top, here, above);
            }
            double[] swap = here;
            here = above;
            above = swap;
            java.util.Arrays.fill(above, 0);
        }
        return new DropMap(columns, rows, drops);
    }

    private static void pass(
            double rest,
            int column,
            int ahead,
            boolean next,
            boolean behind,
            boolean top,
            double[] here,
            double[] above) {
        double shares = (next ? 7 : 0) + (top ? 0 : 5 + (behind ? 3 : 0) + (next ? 1 : 0));
        if (shares == 0) {
            return; // the last site of all
        }
        double share = rest / shares;
        if (next) {
            here[column + ahead] += 7 * share;
        }
        if (!top) {
            above[column] += 5 * share;
            if (behind) {
                above[column - ahead] += 3 * share;
            }
            if (next) {
                above[column + ahead] += share;
            }
        }
    }

    /** Returns the number of sites along x. */
    public int columns() {
        return columns;
    }

    /** Returns the number of sites along y. */
    public int rows() {
        return rows;
    }

    /** Returns the number of drops on a site. */
    public int at(int column, int row) {
        return drops[row * columns + column];
    }

    /** Returns the number of all drops. */
    public long total() {
        return total;
    }
}
