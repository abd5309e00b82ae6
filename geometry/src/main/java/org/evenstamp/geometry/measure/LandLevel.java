package org.evenstamp.geometry.measure;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/** One matrix of a multigrid cycle: symmetric, five points, diagonal not below the sum of its couplings. */
final class LandLevel {
    private static final int COARSEST = 64;
    private static final int COARSEST_SWEEPS = 40;

    final int columns;
    final int rows;
    final boolean periodic;
    final double[] east;
    final double[] north;
    final double[] diagonal;
    final double[] u;
    final double[] f;

    @Nullable
    LandLevel coarser;

    LandLevel(int columns, int rows, boolean periodic) {
        this.columns = columns;
        this.rows = rows;
        this.periodic = periodic;
        east = new double[columns * rows];
        north = new double[columns * rows];
        diagonal = new double[columns * rows];
        u = new double[columns * rows];
        f = new double[columns * rows];
    }

    void coarsen() {
        if (columns * rows <= COARSEST) {
            return;
        }
        LandLevel next = new LandLevel((columns + 1) / 2, (rows + 1) / 2, periodic);
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
        coarser = next;
        next.coarsen();
    }

    /** Adds a coupling of two cells to that of the squares they lie in; within a square it leaves the diagonal. */
    private void couple(LandLevel next, double[] couplings, int from, int other, double c, double factor) {
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

    int right(int i, int column) {
        return column + 1 < columns ? i + 1 : i + 1 - columns;
    }

    int up(int i, int row) {
        return row + 1 < rows ? i + columns : i - (rows - 1) * columns;
    }

    /** One sweep of Gauss and Seidel, onwards or back. */
    void sweep(boolean back) {
        for (int n = 0; n < rows; n++) {
            int row = back ? rows - 1 - n : n;
            int first = row * columns;
            int below = row > 0 ? -columns : (rows - 1) * columns;
            int above = row + 1 < rows ? columns : -(rows - 1) * columns;
            for (int m = 0; m < columns; m++) {
                int column = back ? columns - 1 - m : m;
                int i = first + column;
                if (diagonal[i] > 0) {
                    int left = column > 0 ? i - 1 : i + columns - 1;
                    int right = column + 1 < columns ? i + 1 : first;
                    u[i] = (f[i]
                                    + east[i] * u[right]
                                    + east[left] * u[left]
                                    + north[i] * u[i + above]
                                    + north[i + below] * u[i + below])
                            / diagonal[i];
                }
            }
        }
    }

    double times(double[] x, int i, int column, int row) {
        int left = column > 0 ? i - 1 : i + columns - 1;
        int right = column + 1 < columns ? i + 1 : i + 1 - columns;
        int below = i + (row > 0 ? -columns : (rows - 1) * columns);
        int above = i + (row + 1 < rows ? columns : -(rows - 1) * columns);
        return diagonal[i] * x[i]
                - east[i] * x[right]
                - east[left] * x[left]
                - north[i] * x[above]
                - north[below] * x[below];
    }

    /** Improves u, which is zero at first, for the right side f. */
    void cycle() {
        Arrays.fill(u, 0);
        if (coarser == null) {
            for (int n = 0; n < COARSEST_SWEEPS; n++) {
                sweep(false);
                sweep(true);
            }
            return;
        }
        sweep(false);
        Arrays.fill(coarser.f, 0);
        for (int row = 0; row < rows; row++) {
            int c = row / 2 * coarser.columns;
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (diagonal[i] > 0) {
                    coarser.f[c + column / 2] += f[i] - times(u, i, column, row);
                }
            }
        }
        coarser.cycle();
        for (int row = 0; row < rows; row++) {
            int c = row / 2 * coarser.columns;
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (diagonal[i] > 0) {
                    u[i] += coarser.u[c + column / 2];
                }
            }
        }
        sweep(true);
    }
}
