package org.evenstamp.geometry.measure;

/**
 * Solves {@code -laplace(u) = 1} on the land of a picture, {@code u = 0} on its edge to cavities and no flow through the
 * picture's rim.
 *
 * <p>Five-point differences with unequal arms (Shortley and Weller 1938; from memory): an arm that crosses the edge is cut
 * where the shares of land say the edge lies, which is exact for straight edges along the grid. Successive
 * over-relaxation, its factor taken from the widest land; stops when the largest change in a sweep is below 1e-5 of the
 * largest value, or after {@link #MAX_SWEEPS}. Reuses its buffers; one a thread.
 */
final class TorsionSolver {
    /** Budget of sweeps. */
    static final int MAX_SWEEPS = 4000;

    private static final double TOLERANCE = 1e-5;
    private static final double SHORTEST_ARM = 1e-3;

    private final int columns;
    private final int rows;
    private final int[] cells;
    private final int[] neighbours;
    private final double[] arms;
    private int sweeps;
    private boolean converged;

    TorsionSolver(int columns, int rows) {
        this.columns = columns;
        this.rows = rows;
        this.cells = new int[columns * rows];
        this.neighbours = new int[4 * columns * rows];
        this.arms = new double[5 * columns * rows];
    }

    /**
     * Solves.
     *
     * @param land share of land in every cell, row 0 first
     * @param widest largest distance to a cavity in cells, to choose the relaxation
     * @param u receives the torsion function in squared cells, 0 in cavities; its old content is the first guess
     * @param integral receives each cell's part of the integral of u in cells to the fourth, 0 in cavities
     */
    void solve(double[] land, double widest, double[] u, double[] integral) {
        int count = prepare(land, u);
        double spectral = (1 + Math.cos(Math.PI / (3 * widest + 1))) / 2;
        double omega = 2 / (1 + Math.sqrt(1 - spectral * spectral));
        sweeps = 0;
        converged = count == 0;
        while (!converged && sweeps < MAX_SWEEPS) {
            double change = 0;
            double largest = 0;
            for (int n = 0; n < count; n++) {
                int i = cells[n];
                int four = 4 * n;
                int five = 5 * n;
                double gauss = arms[five]
                        + arms[five + 1] * u[neighbours[four]]
                        + arms[five + 2] * u[neighbours[four + 1]]
                        + arms[five + 3] * u[neighbours[four + 2]]
                        + arms[five + 4] * u[neighbours[four + 3]];
                double step = omega * (gauss - u[i]);
                double value = u[i] + step;
                u[i] = value;
                change = Math.max(change, Math.abs(step));
                largest = Math.max(largest, value);
            }
            sweeps++;
            converged = change <= TOLERANCE * largest;
        }
        integrate(land, u, integral);
    }

    /**
     * Trapezoids up to the edge, plus what they miss of a parabola: h^3/12 of the second derivative in every interval, of
     * which an interval between two cells gives each one half. Exact for a strip.
     */
    private void integrate(double[] land, double[] u, double[] integral) {
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (land[i] <= 0.5) {
                    integral[i] = 0;
                    continue;
                }
                int west = column > 0 ? i - 1 : i;
                int east = column + 1 < columns ? i + 1 : i;
                int south = row > 0 ? i - columns : i;
                int north = row + 1 < rows ? i + columns : i;
                double hw = arm(land, i, west);
                double he = arm(land, i, east);
                double hs = arm(land, i, south);
                double hn = arm(land, i, north);
                double bendX = 2 / (hw + he) * ((u[i] - u[west]) / hw + (u[i] - u[east]) / he);
                double bendY = 2 / (hs + hn) * ((u[i] - u[south]) / hs + (u[i] - u[north]) / hn);
                double lengthX = (hw + he) / 2;
                double lengthY = (hs + hn) / 2;
                double missedX = (missed(land, west, hw) + missed(land, east, he)) * bendX;
                double missedY = (missed(land, south, hs) + missed(land, north, hn)) * bendY;
                integral[i] = lengthX * lengthY * u[i] + missedX * lengthY + missedY * lengthX;
            }
        }
    }

    private static double missed(double[] land, int to, double h) {
        return h * h * h / (land[to] > 0.5 ? 24 : 12);
    }

    private int prepare(double[] land, double[] u) {
        int count = 0;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (land[i] <= 0.5) {
                    u[i] = 0;
                    continue;
                }
                // At the rim the neighbour is the cell itself (mirror): its arm then carries nothing.
                int west = column > 0 ? i - 1 : i;
                int east = column + 1 < columns ? i + 1 : i;
                int south = row > 0 ? i - columns : i;
                int north = row + 1 < rows ? i + columns : i;
                double hw = arm(land, i, west);
                double he = arm(land, i, east);
                double hs = arm(land, i, south);
                double hn = arm(land, i, north);
                double w = west == i ? 0 : 2 / (hw * (hw + he));
                double e = east == i ? 0 : 2 / (he * (hw + he));
                double s = south == i ? 0 : 2 / (hs * (hs + hn));
                double n = north == i ? 0 : 2 / (hn * (hs + hn));
                double diagonal = w + e + s + n;
                if (diagonal == 0) {
                    u[i] = 0;
                    continue;
                }
                cells[count] = i;
                int five = 5 * count;
                int four = 4 * count;
                arms[five] = 1 / diagonal;
                arms[five + 1] = land[west] > 0.5 ? w / diagonal : 0;
                arms[five + 2] = land[east] > 0.5 ? e / diagonal : 0;
                arms[five + 3] = land[south] > 0.5 ? s / diagonal : 0;
                arms[five + 4] = land[north] > 0.5 ? n / diagonal : 0;
                neighbours[four] = west;
                neighbours[four + 1] = east;
                neighbours[four + 2] = south;
                neighbours[four + 3] = north;
                count++;
            }
        }
        return count;
    }

    private static double arm(double[] land, int from, int to) {
        if (land[to] > 0.5) {
            return 1;
        }
        return Math.max(SHORTEST_ARM, Math.min(1, land[from] + land[to] - 0.5));
    }

    /** Returns the number of sweeps of the last solve. */
    int sweeps() {
        return sweeps;
    }

    /** Returns whether the last solve met its tolerance. */
    boolean converged() {
        return converged;
    }
}
