package org.evenstamp.geometry.measure;

/** A symmetric matrix on the cells of a map: five points, diagonal not below the sum of its couplings. */
final class LandMatrix {
    final int columns;
    final int rows;
    final boolean periodic;
    /** Couplings of each cell to the one on its right, round the map from the last; positive. */
    final double[] east;
    /** Couplings of each cell to the one above it. */
    final double[] north;

    final double[] diagonal;

    LandMatrix(int columns, int rows, boolean periodic) {
        this.columns = columns;
        this.rows = rows;
        this.periodic = periodic;
        east = new double[columns * rows];
        north = new double[columns * rows];
        diagonal = new double[columns * rows];
    }

    /** Returns the matrix summed up over 2 x 2 cells, its couplings halved for the doubled distance. */
    LandMatrix coarse() {
        LandMatrix next = new LandMatrix((columns + 1) / 2, (rows + 1) / 2, periodic);
        double alongX = columns > 1 ? 0.5 : 1;
        double alongY = rows > 1 ? 0.5 : 1;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int c = row / 2 * next.columns + column / 2;
                int right = right(i, column);
                int up = up(i, row);
                next.diagonal[c] += diagonal[i];
                couple(next, next.east, c, right, east[i], alongX);
                couple(next, next.north, c, up, north[i], alongY);
            }
        }
        return next;
    }

    /** Adds a coupling of two cells to that of the squares they lie in; within a square it leaves the diagonal. */
    private void couple(LandMatrix next, double[] couplings, int from, int other, double c, double factor) {
        if (c == 0) {
            return;
        }
        int to = other / columns / 2 * next.columns + other % columns / 2;
        if (to == from) {
            next.diagonal[from] -= 2 * c;
            return;
        }
        couplings[from] += factor * c;
        next.diagonal[from] -= (1 - factor) * c;
        next.diagonal[to] -= (1 - factor) * c;
    }

    private int right(int i, int column) {
        return column + 1 < columns ? i + 1 : i + 1 - columns;
    }

    private int up(int i, int row) {
        return row + 1 < rows ? i + columns : i - (rows - 1) * columns;
    }

    /** Offset from a cell to the one below it, round the map from the first row. */
    private int below(int row) {
        return row > 0 ? -columns : (rows - 1) * columns;
    }

    /** Offset from a cell to the one above it, round the map from the last row. */
    private int above(int row) {
        return row + 1 < rows ? columns : -(rows - 1) * columns;
    }

    /** Puts a row of the matrix times x into {@code image}, from {@code start} on. */
    void times(double[] x, int row, double[] image, int start) {
        int first = row * columns;
        int last = columns - 1;
        int below = first + below(row);
        int above = first + above(row);
        for (int n = 1; n < last; n++) {
            image[start + n] = diagonal[first + n] * x[first + n]
                    - north[first + n] * x[above + n]
                    - north[below + n] * x[below + n]
                    - east[first + n] * x[first + n + 1]
                    - east[first + n - 1] * x[first + n - 1];
        }
        for (int n : last == 0 ? new int[] {0} : new int[] {0, last}) {
            image[start + n] = diagonal[first + n] * x[first + n]
                    - north[first + n] * x[above + n]
                    - north[below + n] * x[below + n]
                    - east[first + n] * x[n == last ? first : first + 1]
                    - east[first + (n == 0 ? last : last - 1)] * x[first + (n == 0 ? last : last - 1)];
        }
    }
}
