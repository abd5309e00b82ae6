package org.evenstamp.geometry.measure;

import java.util.Arrays;

/**
 * Solves {@code -laplace(u) = 1} on the land of a picture, {@code u = 0} on its edge to cavities and, as asked, at the
 * picture's rim or no flow through it.
 *
 * <p>Five-point differences with unequal arms (Shortley and Weller 1938; from memory): an arm that crosses the edge is cut
 * where the shares of land say the edge lies, which is exact for straight edges along the grid. Successive
 * over-relaxation, the cells coloured like a checkerboard, its factor taken from the widest land; stops when the largest
 * change in a sweep is below 5e-5 of the largest value, or after {@link #MAX_SWEEPS}. Reuses its buffers; one a thread.
 *
 * <p>Inside, the picture has a frame one cell wide whose values stay 0, so that no cell is a special case in a sweep.
 */
final class TorsionSolver {
    /** Budget of sweeps. */
    static final int MAX_SWEEPS = 4000;

    private static final int SWEEPS_PER_CHECK = 4;
    private static final double TOLERANCE = 5e-5;
    private static final double SHORTEST_ARM = 1e-3;

    private final int columns;
    private final int rows;
    private final boolean mirror;
    private final int stride;
    private final double[] value;
    private final double[] constant;
    private final double[] west;
    private final double[] east;
    private final double[] south;
    private final double[] north;
    /** The cells that carry a value, by colour, and how many. */
    private final int[][] cells;

    private final int[] counts = new int[2];
    /** Arms of the cell being looked at: west, east, south, north. */
    private final double[] arm = new double[4];

    private int sweeps;
    private boolean converged;

    /**
     * Creates a solver.
     *
     * @param mirror whether the land goes on beyond the rim as a mirror image; else the rim is an edge to a cavity
     */
    TorsionSolver(int columns, int rows, boolean mirror) {
        this.columns = columns;
        this.rows = rows;
        this.mirror = mirror;
        stride = columns + 2;
        int size = stride * (rows + 2);
        value = new double[size];
        constant = new double[size];
        west = new double[size];
        east = new double[size];
        south = new double[size];
        north = new double[size];
        cells = new int[2][columns * rows / 2 + 1];
    }

    /**
     * Solves.
     *
     * @param land share of land in every cell, row 0 first
     * @param path first guess at the distance to the nearest cavity in cells
     * @param widest largest distance to a cavity or to an absorbing rim, in cells, to choose the relaxation
     * @param integral receives each cell's part of the integral of u in cells to the fourth, 0 in cavities
     */
    void solve(double[] land, double[] path, double widest, double[] integral) {
        prepare(land, path, widest);
        double spectral = (1 + Math.cos(Math.PI / (2.5 * widest + 1))) / 2;
        double omega = 2 / (1 + Math.sqrt(1 - spectral * spectral));
        sweeps = 0;
        converged = false;
        while (!converged && sweeps < MAX_SWEEPS) {
            for (int n = 1; n < SWEEPS_PER_CHECK; n++) {
                sweep(0, omega);
                sweep(1, omega);
            }
            double change = Math.max(watchedSweep(0, omega), watchedSweep(1, omega));
            sweeps += SWEEPS_PER_CHECK;
            double largest = 0;
            for (double u : value) {
                largest = Math.max(largest, u);
            }
            converged = change <= TOLERANCE * largest;
        }
        integrate(land, integral);
    }

    /** Relaxes the cells of one colour, whose neighbours are all of the other: none waits for the last. */
    private void sweep(int colour, double omega) {
        int[] own = cells[colour];
        int count = counts[colour];
        for (int n = 0; n < count; n++) {
            int i = own[n];
            value[i] += omega * (gauss(i) - value[i]);
        }
    }

    /** Does the same and returns the largest change. */
    private double watchedSweep(int colour, double omega) {
        double change = 0;
        for (int n = 0; n < counts[colour]; n++) {
            int i = cells[colour][n];
            double step = omega * (gauss(i) - value[i]);
            value[i] += step;
            change = Math.max(change, Math.abs(step));
        }
        return change;
    }

    private double gauss(int i) {
        return constant[i]
                + west[i] * value[i - 1]
                + east[i] * value[i + 1]
                + south[i] * value[i - stride]
                + north[i] * value[i + stride];
    }

    private void prepare(double[] land, double[] path, double widest) {
        for (double[] array : new double[][] {value, constant, west, east, south, north}) {
            Arrays.fill(array, 0);
        }
        Arrays.fill(counts, 0);
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int cell = row * columns + column;
                if (land[cell] <= 0.5) {
                    continue;
                }
                findArms(land, column, row);
                // Mirrored, the arm across the rim carries nothing.
                double w = mirror && column == 0 ? 0 : 2 / (arm[0] * (arm[0] + arm[1]));
                double e = mirror && column == columns - 1 ? 0 : 2 / (arm[1] * (arm[0] + arm[1]));
                double s = mirror && row == 0 ? 0 : 2 / (arm[2] * (arm[2] + arm[3]));
                double n = mirror && row == rows - 1 ? 0 : 2 / (arm[3] * (arm[2] + arm[3]));
                double diagonal = w + e + s + n;
                if (diagonal == 0) {
                    continue;
                }
                int i = (row + 1) * stride + column + 1;
                constant[i] = 1 / diagonal;
                west[i] = w / diagonal;
                east[i] = e / diagonal;
                south[i] = s / diagonal;
                north[i] = n / diagonal;
                int colour = (row + column) & 1;
                cells[colour][counts[colour]++] = i;
                value[i] = path[cell] * Math.max(0, widest - path[cell] / 2);
            }
        }
    }

    private void findArms(double[] land, int column, int row) {
        int cell = row * columns + column;
        arm[0] = column > 0 ? arm(land, cell, cell - 1) : rimArm();
        arm[1] = column + 1 < columns ? arm(land, cell, cell + 1) : rimArm();
        arm[2] = row > 0 ? arm(land, cell, cell - columns) : rimArm();
        arm[3] = row + 1 < rows ? arm(land, cell, cell + columns) : rimArm();
    }

    private double rimArm() {
        return mirror ? 1 : 0.5;
    }

    private static double arm(double[] land, int from, int to) {
        if (land[to] > 0.5) {
            return 1;
        }
        return Math.max(SHORTEST_ARM, Math.min(1, land[from] + land[to] - 0.5));
    }

    /**
     * Trapezoids up to the edge, plus what they miss of a parabola: h^3/12 of the second derivative in every interval, of
     * which an interval between two cells gives each one half. Exact for a strip.
     */
    private void integrate(double[] land, double[] integral) {
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int cell = row * columns + column;
                if (land[cell] <= 0.5) {
                    integral[cell] = 0;
                    continue;
                }
                findArms(land, column, row);
                int i = (row + 1) * stride + column + 1;
                double u = value[i];
                boolean mirrorW = mirror && column == 0;
                boolean mirrorE = mirror && column == columns - 1;
                boolean mirrorS = mirror && row == 0;
                boolean mirrorN = mirror && row == rows - 1;
                double bendX = 2
                        / (arm[0] + arm[1])
                        * ((mirrorW ? 0 : u - value[i - 1]) / arm[0] + (mirrorE ? 0 : u - value[i + 1]) / arm[1]);
                double bendY = 2
                        / (arm[2] + arm[3])
                        * ((mirrorS ? 0 : u - value[i - stride]) / arm[2]
                                + (mirrorN ? 0 : u - value[i + stride]) / arm[3]);
                double missedX = (missed(arm[0], mirrorW || (column > 0 && land[cell - 1] > 0.5))
                                + missed(arm[1], mirrorE || (column + 1 < columns && land[cell + 1] > 0.5)))
                        * bendX;
                double missedY = (missed(arm[2], mirrorS || (row > 0 && land[cell - columns] > 0.5))
                                + missed(arm[3], mirrorN || (row + 1 < rows && land[cell + columns] > 0.5)))
                        * bendY;
                double lengthX = (arm[0] + arm[1]) / 2;
                double lengthY = (arm[2] + arm[3]) / 2;
                integral[cell] = lengthX * lengthY * u + missedX * lengthY + missedY * lengthX;
            }
        }
    }

    private static double missed(double h, boolean sharedWithNeighbour) {
        return h * h * h / (sharedWithNeighbour ? 24 : 12);
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
