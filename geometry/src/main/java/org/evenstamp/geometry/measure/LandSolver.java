package org.evenstamp.geometry.measure;

import java.util.Arrays;
import org.evenstamp.shared.progress.Stage;

/**
 * Solves {@code -laplace(u) + a u = 1} on all land of a map, {@code u = 0} at its edges to cavities. Where cells hold
 * features finer than themselves, {@code 1/a} is the value of u among these; elsewhere a is 0.
 *
 * <p>Finite volumes on square cells, five points each. An arm that crosses an edge is cut where the shares of land say the
 * edge lies; a cell's sides and its source are those of the rectangle between the middles of its arms, which is exact for
 * straight edges along the cells and keeps the matrix symmetric. Conjugate gradients, preconditioned by a multigrid cycle
 * over 2 x 2 cells taken together (the matrix summed up, its couplings halved for the doubled distance). Lengths in cells.
 */
public final class LandSolver {
    private static final int MOST_ITERATIONS = 200;
    private static final double REDUCTION = 1e-8; // of the residual; flows through faces are known to about as much
    private static final double SHORTEST_ARM = 1e-3;
    /** Land from this share on, as everywhere in pictures. */
    private static final double LAND = 0.5;

    private static final double ROUNDING = 1e-9;
    /** From this length on an arm reaches its cell's side. */
    private static final double ON_FACE = 0.5 - 1e-6;

    private final int columns;
    private final int rows;
    private final boolean periodic;
    private final boolean openRim;
    private final double[] land;
    private final double[] absorption;
    private final LandMatrix matrix;
    private final LandRows all;
    private final int threads;
    private final double[] u;
    private final double[] source;
    private int iterations;
    private boolean converged;

    /**
     * Sets the map up.
     *
     * @param land share of land in every cell, row 0 first
     * @param absorption a of every cell, over its size squared; positive where finer features are, whatever the share
     * @param periodic whether the map repeats itself on all sides
     * @param openRim whether the rim of a map that does not is an edge, too; else nothing passes it
     * @param threads number of threads, on which no result depends
     */
    public LandSolver(
            int columns, int rows, double[] land, double[] absorption, boolean periodic, boolean openRim, int threads) {
        this.columns = columns;
        this.rows = rows;
        this.land = land;
        this.absorption = absorption;
        this.periodic = periodic;
        this.openRim = openRim;
        this.threads = threads;
        matrix = new LandMatrix(columns, rows, periodic);
        all = new LandRows(columns, rows, threads);
        u = new double[columns * rows];
        source = new double[columns * rows];
        double[] sideX = new double[columns * rows];
        double[] sideY = new double[columns * rows];
        all.each(row -> setSides(row, sideX, sideY));
        all.each(row -> setCouplings(row, sideX, sideY));
        all.each(row -> setDiagonal(row, sideX, sideY));
    }

    private void setSides(int row, double[] sideX, double[] sideY) {
        for (int column = 0; column < columns; column++) {
            int i = row * columns + column;
            if (carries(i)) {
                sideX[i] = (arm(i, left(i, column)) + arm(i, right(i, column))) / 2;
                sideY[i] = (arm(i, below(i, row)) + arm(i, above(i, row))) / 2;
                source[i] = sideX[i] * sideY[i];
            }
        }
    }

    private void setCouplings(int row, double[] sideX, double[] sideY) {
        for (int column = 0; column < columns; column++) {
            int i = row * columns + column;
            if (!carries(i)) {
                continue;
            }
            int right = right(i, column);
            int above = above(i, row);
            if (right >= 0 && carries(right)) {
                matrix.east[i] = (sideY[i] + sideY[right]) / 2;
            }
            if (above >= 0 && carries(above)) {
                matrix.north[i] = (sideX[i] + sideX[above]) / 2;
            }
        }
    }

    private void setDiagonal(int row, double[] sideX, double[] sideY) {
        for (int column = 0; column < columns; column++) {
            int i = row * columns + column;
            if (!carries(i)) {
                continue;
            }
            int left = left(i, column);
            int below = below(i, row);
            matrix.diagonal[i] = absorption[i] * source[i]
                    + (below < 0 ? 0 : matrix.north[below])
                    + (left < 0 ? 0 : matrix.east[left])
                    + matrix.east[i]
                    + matrix.north[i]
                    + (sideY[i] * (toEdge(i, left) + toEdge(i, right(i, column)))
                            + sideX[i] * (toEdge(i, below) + toEdge(i, above(i, row))));
        }
    }

    private int left(int i, int column) {
        return column > 0 ? i - 1 : periodic ? i + columns - 1 : -1;
    }

    private int right(int i, int column) {
        return column + 1 < columns ? i + 1 : periodic ? i + 1 - columns : -1;
    }

    private int below(int i, int row) {
        return row > 0 ? i - columns : periodic ? i + (rows - 1) * columns : -1;
    }

    private int above(int i, int row) {
        return row + 1 < rows ? i + columns : periodic ? i - (rows - 1) * columns : -1;
    }

    /** Returns whether a cell has a u of its own. */
    private boolean carries(int i) {
        return land[i] > LAND + ROUNDING || absorption[i] > 0;
    }

    private double arm(int from, int to) {
        if (to < 0) {
            return openRim ? 0.5 : 1;
        }
        if (carries(to)) {
            return 1;
        }
        return absorption[from] > 0 ? 0.5 : Math.max(SHORTEST_ARM, Math.min(1, land[from] + land[to] - LAND));
    }

    /** Conductance to an edge between two cells, or to the rim, per side. */
    private double toEdge(int from, int to) {
        return to < 0 ? (openRim ? 2 : 0) : carries(to) ? 0 : 1 / arm(from, to);
    }

    /** Solves; without any edge and any absorption nothing is solved, and u is 0. */
    public void solve(Stage stage) {
        Arrays.fill(u, 0);
        iterations = 0;
        converged = true;
        if (!hasExit()) {
            return;
        }
        LandLevel finest = new LandLevel(matrix, threads);
        double[] p = new double[u.length];
        double[] image = new double[u.length];
        double[] residual = source.clone();
        double first = Math.sqrt(all.sum(row -> dot(source, source, row)));
        double gamma = 0;
        converged = first == 0;
        all.each(row -> ask(finest, residual, row));
        while (!converged && iterations < MOST_ITERATIONS) {
            finest.cycle();
            double before = gamma;
            gamma = all.sum(row -> dot(finest.u, residual, row));
            double beta = iterations == 0 ? 0 : gamma / before;
            all.each(row -> add(finest.u, beta, p, row));
            double bent = all.sum(row -> {
                matrix.times(p, row, image, row * columns);
                return dot(p, image, row);
            });
            double alpha = gamma / bent;
            double left = all.sum(row -> {
                for (int i = row * columns; i < (row + 1) * columns; i++) {
                    u[i] += alpha * p[i];
                    residual[i] -= alpha * image[i];
                }
                ask(finest, residual, row);
                return dot(residual, residual, row);
            });
            iterations++;
            stage.advance(1);
            converged = Math.sqrt(left) <= REDUCTION * first;
        }
    }

    /** Puts a row of a residual before a cycle. */
    private void ask(LandLevel finest, double[] residual, int row) {
        for (int i = row * columns; i < (row + 1) * columns; i++) {
            finest.f[i] = (float) residual[i];
            finest.u[i] = 0;
        }
    }

    /** Makes a row of p that of a + beta p. */
    private void add(float[] a, double beta, double[] p, int row) {
        for (int i = row * columns; i < (row + 1) * columns; i++) {
            p[i] = a[i] + beta * p[i];
        }
    }

    private double dot(float[] a, double[] b, int row) {
        double sum = 0;
        for (int i = row * columns; i < (row + 1) * columns; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    private double dot(double[] a, double[] b, int row) {
        double sum = 0;
        for (int i = row * columns; i < (row + 1) * columns; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    private boolean hasExit() {
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                if (carries(i)
                        && (absorption[i] > 0
                                || toEdge(i, left(i, column)) > 0
                                || toEdge(i, right(i, column)) > 0
                                || toEdge(i, below(i, row)) > 0
                                || toEdge(i, above(i, row)) > 0)) {
                    return true;
                }
            }
        }
        return false;
    }

    /** Returns the number of iterations of the solve. */
    public int iterations() {
        return iterations;
    }

    /** Returns whether the solve met its tolerance. */
    public boolean converged() {
        return converged;
    }

    /** What lies on both sides of the common face of two neighbours. */
    public enum Face {
        /** A u on both sides, of land at least on one. */
        LAND,
        /** Land, and a cavity in the second cell. */
        WALL_AHEAD,
        /** Land, and a cavity in the first cell. */
        WALL_BEHIND,
        /** No land that ends or goes on there. */
        NONE
    }

    /** Returns what the right face of a cell, or its upper one, is. */
    public Face face(int column, int row, boolean up) {
        int i = row * columns + column;
        int j = up ? above(i, row) : right(i, column);
        if (j < 0) {
            return Face.NONE;
        }
        if (carries(i) && carries(j)) {
            return absorption[i] > 0 && absorption[j] > 0 ? Face.NONE : Face.LAND;
        }
        // An edge nearer than the face lies in the cell of the land itself: its film stays there at first.
        if (carries(i)) {
            return absorption[i] == 0 && arm(i, j) >= ON_FACE ? Face.WALL_AHEAD : Face.NONE;
        }
        return carries(j) && absorption[j] == 0 && arm(j, i) >= ON_FACE ? Face.WALL_BEHIND : Face.NONE;
    }

    /** Returns whether finer features lie on both sides of the right face of a cell, or of the upper one. */
    public boolean isFine(int column, int row, boolean up) {
        int i = row * columns + column;
        int j = up ? above(i, row) : right(i, column);
        return j >= 0 && absorption[i] > 0 && absorption[j] > 0;
    }

    /** Returns the flow over the right face of a cell, or the upper one, positive to the right or upwards. */
    public double flow(int column, int row, boolean up) {
        int i = row * columns + column;
        int j = up ? above(i, row) : right(i, column);
        if (j < 0) {
            return 0;
        }
        if (carries(i) && carries(j)) {
            return (up ? matrix.north[i] : matrix.east[i]) * (u[i] - u[j]);
        }
        if (carries(i)) {
            return side(i, column, row, up) * u[i] / arm(i, j) + curved(i, j, column, row, up);
        }
        if (carries(j)) {
            int otherColumn = j % columns;
            int otherRow = j / columns;
            return -side(j, otherColumn, otherRow, up) * u[j] / arm(j, i) - curved(j, i, otherColumn, otherRow, up);
        }
        return 0;
    }

    /** What the source between a cell's middle and the edge adds to the flow there: half the arm, times the side. */
    private double curved(int from, int to, int column, int row, boolean up) {
        return absorption[from] > 0 ? 0 : side(from, column, row, up) * arm(from, to) / 2;
    }

    private double side(int i, int column, int row, boolean up) {
        return up
                ? (arm(i, left(i, column)) + arm(i, right(i, column))) / 2
                : (arm(i, below(i, row)) + arm(i, above(i, row))) / 2;
    }

    /**
     * Returns a cell's part of the integral of u: trapezoids up to the edge, plus what they miss of a parabola. Exact for a
     * strip.
     */
    public double integral(int column, int row) {
        int i = row * columns + column;
        if (!carries(i)) {
            return 0;
        }
        if (absorption[i] > 0) {
            return u[i];
        }
        int left = left(i, column);
        int right = right(i, column);
        int below = below(i, row);
        int above = above(i, row);
        double west = arm(i, left);
        double east = arm(i, right);
        double south = arm(i, below);
        double north = arm(i, above);
        double bendX = 2 / (west + east) * (fall(i, left) / west + fall(i, right) / east);
        double bendY = 2 / (south + north) * (fall(i, below) / south + fall(i, above) / north);
        double lengthX = (west + east) / 2;
        double lengthY = (south + north) / 2;
        double missedX = (missed(west, left) + missed(east, right)) * bendX;
        double missedY = (missed(south, below) + missed(north, above)) * bendY;
        return lengthX * lengthY * u[i] + missedX * lengthY + missedY * lengthX;
    }

    private double fall(int i, int neighbour) {
        return neighbour < 0 ? openRim ? u[i] : 0 : u[i] - (carries(neighbour) ? u[neighbour] : 0);
    }

    private double missed(double h, int neighbour) {
        boolean shared = neighbour < 0 ? !openRim : carries(neighbour);
        return h * h * h / (shared ? 24 : 12);
    }
}
