package org.evenstamp.geometry.measure;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * A multigrid cycle on the cells of a map and its coarser maps, in single precision: it need only point the way, and takes
 * half the memory traffic.
 *
 * <p>Rows of one colour do not touch each other, so threads share them out and every number stays what it is on one thread.
 */
final class LandLevel {
    private static final int COARSEST = 64;
    private static final int COARSEST_SWEEPS = 40;
    /** Times a coarser matrix is visited: twice takes half the iterations of once, for a quarter more work each. */
    private static final int VISITS = 2;

    private final int columns;
    private final int rows;
    private final boolean periodic;
    private final float[] east;
    private final float[] north;
    private final float[] diagonal;
    private final float[] inverse;
    private final LandRows all;

    @Nullable
    private final LandLevel coarser;

    final float[] u;
    final float[] f;

    LandLevel(LandMatrix matrix, int threads) {
        columns = matrix.columns;
        rows = matrix.rows;
        periodic = matrix.periodic;
        east = single(matrix.east);
        north = single(matrix.north);
        diagonal = single(matrix.diagonal);
        inverse = new float[diagonal.length];
        for (int i = 0; i < diagonal.length; i++) {
            inverse[i] = diagonal[i] > 0 ? 1 / diagonal[i] : 0;
        }
        all = new LandRows(columns, rows, threads);
        u = new float[diagonal.length];
        f = new float[diagonal.length];
        coarser = columns * rows <= COARSEST ? null : new LandLevel(matrix.coarse(), threads);
    }

    private static float[] single(double[] values) {
        float[] single = new float[values.length];
        for (int i = 0; i < values.length; i++) {
            single[i] = (float) values[i];
        }
        return single;
    }

    /** Offset from a cell to the one below it, round the map from the first row. */
    private int below(int row) {
        return row > 0 ? -columns : (rows - 1) * columns;
    }

    /** Offset from a cell to the one above it, round the map from the last row. */
    private int above(int row) {
        return row + 1 < rows ? columns : -(rows - 1) * columns;
    }

    /** One sweep of Gauss and Seidel, onwards or back: every second row, then those between. */
    private void sweep(boolean back) {
        // The last of an odd number of rows that go round touches the first: it comes by itself.
        boolean extra = periodic && rows % 2 == 1 && rows > 1;
        if (back) {
            if (extra) {
                relaxBack(rows - 1);
            }
            all.each(1, 2, rows, this::relaxBack);
            all.each(0, 2, extra ? rows - 1 : rows, this::relaxBack);
        } else {
            all.each(0, 2, extra ? rows - 1 : rows, this::relax);
            all.each(1, 2, rows, this::relax);
            if (extra) {
                relax(rows - 1);
            }
        }
    }

    private void relax(int row) {
        int first = row * columns;
        int last = columns - 1;
        float[] line = across(row);
        for (int n = 0; n < last; n++) {
            line[n] += east[first + n] * u[first + n + 1];
        }
        float round = u[first];
        float before = u[first + last];
        float coupling = east[first + last];
        for (int n = 0; n < last; n++) {
            before = (line[n] + coupling * before) * inverse[first + n];
            u[first + n] = before;
            coupling = east[first + n];
        }
        round = columns == 1 ? round : u[first];
        u[first + last] = (line[last] + coupling * before + east[first + last] * round) * inverse[first + last];
    }

    /** Does the same from the last column to the first. */
    private void relaxBack(int row) {
        int first = row * columns;
        int last = columns - 1;
        float[] line = across(row);
        for (int n = 1; n <= last; n++) {
            line[n] += east[first + n - 1] * u[first + n - 1];
        }
        float round = u[first + last];
        float after = u[first];
        for (int n = last; n > 0; n--) {
            after = (line[n] + east[first + n] * after) * inverse[first + n];
            u[first + n] = after;
        }
        round = columns == 1 ? round : u[first + last];
        u[first] = (line[0] + east[first] * after + east[first + last] * round) * inverse[first];
    }

    /** Returns f of a row and what the rows next to it add. */
    private float[] across(int row) {
        int first = row * columns;
        int below = first + below(row);
        int above = first + above(row);
        float[] line = new float[columns];
        for (int n = 0; n < columns; n++) {
            line[n] = f[first + n] + north[first + n] * u[above + n] + north[below + n] * u[below + n];
        }
        return line;
    }

    /** Improves u for the right side f. */
    void cycle() {
        LandLevel next = coarser;
        if (next == null) {
            for (int n = 0; n < COARSEST_SWEEPS; n++) {
                sweep(false);
                sweep(true);
            }
            return;
        }
        sweep(false);
        next.all.each(0, 1, next.rows, row -> gather(next, row));
        Arrays.fill(next.u, 0);
        for (int n = 0; n < VISITS; n++) {
            next.cycle();
        }
        all.each(0, 1, rows, row -> {
            int c = row / 2 * next.columns;
            for (int column = 0; column < columns; column++) {
                u[row * columns + column] += next.u[c + column / 2];
            }
        });
        sweep(true);
    }

    /** Adds up what is left in each square of a row of them. */
    private void gather(LandLevel next, int coarseRow) {
        int coarse = coarseRow * next.columns;
        Arrays.fill(next.f, coarse, coarse + next.columns, 0);
        for (int row = 2 * coarseRow; row < Math.min(rows, 2 * coarseRow + 2); row++) {
            float[] left = left(row);
            for (int column = 0; column < columns; column++) {
                next.f[coarse + column / 2] += left[column];
            }
        }
    }

    /** Returns what the matrix times u lacks of f in a row. */
    private float[] left(int row) {
        int first = row * columns;
        int last = columns - 1;
        float[] left = across(row);
        for (int n = 0; n <= last; n++) {
            left[n] -= diagonal[first + n] * u[first + n];
        }
        for (int n = 0; n < last; n++) {
            left[n] += east[first + n] * u[first + n + 1];
        }
        for (int n = 1; n <= last; n++) {
            left[n] += east[first + n - 1] * u[first + n - 1];
        }
        left[last] += east[first + last] * u[first];
        left[0] += east[first + last] * u[first + last];
        return left;
    }
}
