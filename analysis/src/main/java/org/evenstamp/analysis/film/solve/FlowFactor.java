package org.evenstamp.analysis.film.solve;

import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;

/**
 * An incomplete Cholesky factor N of {@code α + Δt L} (Meijerink and van der Vorst, Math. Comp. 31 (1977) 148, quoted from
 * memory): {@code N Nᵀ} agrees with the matrix wherever that is not zero.
 *
 * <p>N couples tiles within strips of rows, so that strips are solved side by side. Faces between strips, and those over
 * which a map repeats itself, count on the diagonal alone.
 */
final class FlowFactor {
    private static final int STRIP_ROWS = 32; // one strip as high as the map needs as many iterations
    private static final double FAINT = 0.01; // entries below this share of the diagonals change no iteration count

    private final int columns;
    private final int rows;
    private final ThreadTeam team;
    private final double[] inverse; // of N's diagonal
    private final double[] scale; // a tile's weight over N's diagonal
    private final double[] left; // N's entry towards the left neighbour, over both diagonals, sign changed
    private final double[] down;
    private final boolean[] coupled; // strips in which film flows enough to matter
    private final ThreadTeam.Task factorise = this::factorise;
    private double shift;
    private double[] diagonal = {};
    private double[] east = {};
    private double[] north = {};
    private double[] weight = {};

    FlowFactor(TileGrid grid, ThreadTeam team) {
        columns = grid.columns();
        rows = grid.rows();
        this.team = team;
        inverse = new double[grid.size()];
        scale = new double[grid.size()];
        left = new double[grid.size()];
        down = new double[grid.size()];
        coupled = new boolean[strips()];
    }

    int strips() {
        return (rows + STRIP_ROWS - 1) / STRIP_ROWS;
    }

    /** Returns the first tile of a strip, and the number of tiles for the strip after the last one. */
    int firstTile(int strip) {
        return Math.min(rows, strip * STRIP_ROWS) * columns;
    }

    /**
     * Factorises.
     *
     * @param alpha positive, in m/Pa
     * @param tileWeight the diagonal of a matrix W that is to stand beside N
     */
    void prepare(double alpha, TileFlow flow, double[] tileWeight) {
        shift = alpha;
        diagonal = flow.diagonal;
        east = flow.eastInner;
        north = flow.northInner;
        weight = tileWeight;
        team.run(factorise, strips());
    }

    private void factorise(int from, int to, int member) {
        for (int strip = from; strip < to; strip++) {
            int first = firstTile(strip);
            coupled[strip] = false;
            for (int i = first; i < firstTile(strip + 1); i++) {
                double fromLeft = i % columns == 0 ? 0 : east[i - 1] * inverse[i - 1];
                double fromDown = i < first + columns ? 0 : north[i - columns] * inverse[i - columns];
                inverse[i] = 1 / Math.sqrt(shift + diagonal[i] - fromLeft * fromLeft - fromDown * fromDown);
                left[i] = fromLeft * inverse[i];
                down[i] = fromDown * inverse[i];
                scale[i] = weight[i] * inverse[i];
                coupled[strip] |= left[i] > FAINT || down[i] > FAINT;
            }
        }
    }

    /** Writes {@code N⁻¹ W v} on the strips {@code from .. to - 1}. */
    void solve(double[] v, double[] solution, int from, int to) {
        int strip = from;
        while (strip < to) {
            if (isPair(strip, to)) {
                solveTwo(v, solution, firstTile(strip), firstTile(strip + 1));
                strip += 2;
            } else {
                solveOne(v, solution, strip);
                strip++;
            }
        }
    }

    /** Returns whether a strip and the next are alike, so that they can be solved at once. */
    private boolean isPair(int strip, int end) {
        return strip + 1 < end && coupled[strip] && coupled[strip + 1] && (strip + 2) * STRIP_ROWS <= rows;
    }

    private void solveOne(double[] v, double[] solution, int strip) {
        int first = firstTile(strip);
        int end = firstTile(strip + 1);
        if (!coupled[strip]) {
            for (int i = first; i < end; i++) {
                solution[i] = scale[i] * v[i];
            }
            return;
        }
        for (int row = first; row < end; row += columns) {
            double last = 0;
            for (int i = row; i < row + columns; i++) {
                double fromBelow = row == first ? 0 : down[i] * solution[i - columns];
                last = scale[i] * v[i] + fromBelow + left[i] * last;
                solution[i] = last;
            }
        }
    }

    /** Solves two strips side by side: each waits for its own last tile, and a processor goes on with the other meanwhile. */
    private void solveTwo(double[] v, double[] solution, int first, int second) {
        int apart = second - first;
        for (int row = first; row < second; row += columns) {
            double last = 0;
            double lastThere = 0;
            for (int i = row; i < row + columns; i++) {
                int there = i + apart;
                double fromBelow = row == first ? 0 : down[i] * solution[i - columns];
                double fromBelowThere = row == first ? 0 : down[there] * solution[there - columns];
                last = scale[i] * v[i] + fromBelow + left[i] * last;
                lastThere = scale[there] * v[there] + fromBelowThere + left[there] * lastThere;
                solution[i] = last;
                solution[there] = lastThere;
            }
        }
    }

    /** Writes {@code W N⁻ᵀ v + D u}, D a diagonal, on the strips {@code from .. to - 1}, and uses v up. */
    void solveTransposed(double[] v, double[] d, double[] u, double[] sum, int from, int to) {
        int strip = from;
        while (strip < to) {
            if (isPair(strip, to)) {
                transposedTwo(v, d, u, sum, firstTile(strip), firstTile(strip + 1));
                strip += 2;
            } else {
                transposedOne(v, d, u, sum, strip);
                strip++;
            }
        }
    }

    private void transposedOne(double[] v, double[] d, double[] u, double[] sum, int strip) {
        int first = firstTile(strip);
        int end = firstTile(strip + 1);
        for (int row = coupled[strip] ? end - columns : first - columns; row >= first; row -= columns) {
            double fromRight = 0;
            for (int i = row + columns - 1; i >= row; i--) {
                double fromAbove = row + columns == end ? 0 : down[i + columns] * v[i + columns];
                v[i] += fromAbove + fromRight;
                fromRight = left[i] * v[i];
            }
            if (row + columns < end) {
                add(v, d, u, sum, row + columns, row + 2 * columns);
            }
        }
        add(v, d, u, sum, first, coupled[strip] ? first + columns : end);
    }

    private void transposedTwo(double[] v, double[] d, double[] u, double[] sum, int first, int second) {
        int apart = second - first;
        for (int row = second - columns; row >= first; row -= columns) {
            double fromRight = 0;
            double fromRightThere = 0;
            for (int i = row + columns - 1; i >= row; i--) {
                int there = i + apart;
                double fromAbove = row + columns == second ? 0 : down[i + columns] * v[i + columns];
                double fromAboveThere = row + columns == second ? 0 : down[there + columns] * v[there + columns];
                double here = v[i] + (fromAbove + fromRight);
                double other = v[there] + (fromAboveThere + fromRightThere);
                v[i] = here;
                v[there] = other;
                fromRight = left[i] * here;
                fromRightThere = left[there] * other;
            }
            if (row + columns < second) {
                add(v, d, u, sum, row + columns, row + 2 * columns);
                add(v, d, u, sum, row + columns + apart, row + 2 * columns + apart);
            }
        }
        add(v, d, u, sum, first, first + columns);
        add(v, d, u, sum, second, second + columns);
    }

    private void add(double[] v, double[] d, double[] u, double[] sum, int from, int to) {
        for (int i = from; i < to; i++) {
            sum[i] = scale[i] * v[i] + d[i] * u[i];
        }
    }
}
