package org.evenstamp.geometry.measure;

/**
 * Distance of every cell of one phase to the edge of the other, in linear time: columns first, then the lower envelope of
 * parabolas along each row (A. Meijster, J. Roerdink, W. Hesselink, "A general algorithm for computing distance transforms
 * in linear time", 2000; the reference is from memory). Exact between cell centres; the edge is placed between two centres
 * by the share of land in both cells. Reuses its buffers; one a thread.
 */
public final class DistanceMap {
    private static final int NONE = Integer.MAX_VALUE / 4;

    private final int columns;
    private final int rows;
    private final int[] nearestRow;
    private final int[] nearest;
    private final double[] edgeOffset;
    private final int[] site;
    private final double[] boundary;

    /** Creates a map of this many cells. */
    public DistanceMap(int columns, int rows) {
        this.columns = columns;
        this.rows = rows;
        this.nearestRow = new int[columns * rows];
        this.nearest = new int[columns * rows];
        this.edgeOffset = new double[columns * rows];
        this.site = new int[columns];
        this.boundary = new double[columns + 1];
    }

    /**
     * Measures.
     *
     * @param share share of the phase in every cell, 0 to 1, row 0 first; a cell belongs to the phase above one half
     * @param distance receives the distance in cells, 0 outside the phase
     * @return whether there is any cell outside the phase; without one no distance exists and all are 0
     */
    public boolean measure(double[] share, double[] distance) {
        boolean any = findOffsets(share);
        if (!any) {
            java.util.Arrays.fill(distance, 0);
            return false;
        }
        scanColumns(share);
        for (int row = 0; row < rows; row++) {
            scanRow(share, distance, row);
        }
        return true;
    }

    /** Returns the index of the cell outside the phase that is nearest to a cell of the phase, of the last measurement. */
    int nearest(int index) {
        return nearest[index];
    }

    /** How far the edge lies from the centre of a cell outside the phase, towards the phase. */
    private boolean findOffsets(double[] share) {
        boolean any = false;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (share[i] > 0.5) {
                    continue;
                }
                any = true;
                double sum = 0;
                int count = 0;
                if (column > 0 && share[i - 1] > 0.5) {
                    sum += share[i - 1];
                    count++;
                }
                if (column + 1 < columns && share[i + 1] > 0.5) {
                    sum += share[i + 1];
                    count++;
                }
                if (row > 0 && share[i - columns] > 0.5) {
                    sum += share[i - columns];
                    count++;
                }
                if (row + 1 < rows && share[i + columns] > 0.5) {
                    sum += share[i + columns];
                    count++;
                }
                // Centre to centre is one cell, of which the phase holds share + neighbour's share - 1/2.
                edgeOffset[i] = count == 0 ? 0.5 : Math.max(0, Math.min(1, 1.5 - share[i] - sum / count));
            }
        }
        return any;
    }

    private void scanColumns(double[] share) {
        for (int column = 0; column < columns; column++) {
            int last = -NONE;
            for (int row = 0; row < rows; row++) {
                int i = row * columns + column;
                if (share[i] <= 0.5) {
                    last = row;
                }
                nearestRow[i] = last;
            }
            last = NONE;
            for (int row = rows - 1; row >= 0; row--) {
                int i = row * columns + column;
                if (share[i] <= 0.5) {
                    last = row;
                }
                if (last - row < row - nearestRow[i]) {
                    nearestRow[i] = last;
                }
            }
        }
    }

    private void scanRow(double[] share, double[] distance, int row) {
        int count = 0;
        for (int column = 0; column < columns; column++) {
            double height = rise(row, column);
            if (height >= (double) NONE * NONE / 4) {
                continue;
            }
            double from = Double.NEGATIVE_INFINITY;
            while (count > 0) {
                int other = site[count - 1];
                from = (height - rise(row, other) + (double) column * column - (double) other * other)
                        / (2.0 * (column - other));
                if (from > boundary[count - 1]) {
                    break;
                }
                count--;
                from = Double.NEGATIVE_INFINITY;
            }
            site[count] = column;
            boundary[count] = from;
            count++;
        }
        int current = 0;
        for (int column = 0; column < columns; column++) {
            int i = row * columns + column;
            while (current + 1 < count && boundary[current + 1] <= column) {
                current++;
            }
            if (share[i] <= 0.5 || count == 0) {
                distance[i] = 0;
                continue;
            }
            int seed = site[current];
            nearest[i] = nearestRow[row * columns + seed] * columns + seed;
            double centres = Math.sqrt(rise(row, seed) + (double) (column - seed) * (column - seed));
            distance[i] = Math.max(0.01, centres - edgeOffset[nearest[i]]);
        }
    }

    /** Squared distance along the column to its nearest cell outside the phase. */
    private double rise(int row, int column) {
        double d = (double) row - nearestRow[row * columns + column];
        return d * d;
    }
}
