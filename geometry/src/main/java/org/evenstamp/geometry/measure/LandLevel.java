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

    /** Rows that are relaxed side by side. */
    private static final int AT_ONCE = 4;

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
        int even = extra ? rows - 1 : rows;
        if (extra && back) {
            relax(true, rows - 1, rows);
        }
        for (int first : back ? new int[] {1, 0} : new int[] {0, 1}) {
            all.share(first, 2, first == 0 ? even : rows, (from, stop) -> relax(back, from, stop));
        }
        if (extra && !back) {
            relax(false, rows - 1, rows);
        }
    }

    /** Relaxes every second row from one to before a stop, side by side where there are as many as go at once. */
    private void relax(boolean back, int from, int stop) {
        float[][] lines = new float[AT_ONCE][columns];
        for (int row = from; row < stop; row += 2 * AT_ONCE) {
            int count = Math.min(AT_ONCE, (stop - row + 1) / 2);
            for (int n = 0; n < count; n++) {
                if (back) {
                    acrossBack(row + 2 * n, lines[n]);
                } else {
                    across(row + 2 * n, lines[n]);
                }
            }
            if (count == AT_ONCE && back) {
                backwards(row * columns, 2 * columns, lines);
            } else if (count == AT_ONCE) {
                onwards(row * columns, 2 * columns, lines);
            } else {
                for (int n = 0; n < count; n++) {
                    one(back, (row + 2 * n) * columns, lines[n]);
                }
            }
        }
    }

    private void one(boolean back, int first, float[] line) {
        if (back) {
            backwards(first, line);
        } else {
            onwards(first, line);
        }
    }

    private void onwards(int first, float[] line) {
        int last = columns - 1;
        float before = u[first + last];
        float coupling = east[first + last];
        for (int n = 0; n < last; n++) {
            before = (line[n] + coupling * before) * inverse[first + n];
            u[first + n] = before;
            coupling = east[first + n];
        }
        u[first + last] = (line[last] + coupling * before + east[first + last] * u[first]) * inverse[first + last];
    }

    /** Does the same with four rows whose beginnings lie a step apart: each cell waits for the one before it, but for no other row. */
    private void onwards(int a, int step, float[][] lines) {
        int b = a + step;
        int c = b + step;
        int d = c + step;
        int last = columns - 1;
        float[] lineA = lines[0];
        float[] lineB = lines[1];
        float[] lineC = lines[2];
        float[] lineD = lines[3];
        float beforeA = u[a + last];
        float beforeB = u[b + last];
        float beforeC = u[c + last];
        float beforeD = u[d + last];
        float couplingA = east[a + last];
        float couplingB = east[b + last];
        float couplingC = east[c + last];
        float couplingD = east[d + last];
        for (int n = 0; n < last; n++) {
            beforeA = (lineA[n] + couplingA * beforeA) * inverse[a + n];
            beforeB = (lineB[n] + couplingB * beforeB) * inverse[b + n];
            beforeC = (lineC[n] + couplingC * beforeC) * inverse[c + n];
            beforeD = (lineD[n] + couplingD * beforeD) * inverse[d + n];
            u[a + n] = beforeA;
            u[b + n] = beforeB;
            u[c + n] = beforeC;
            u[d + n] = beforeD;
            couplingA = east[a + n];
            couplingB = east[b + n];
            couplingC = east[c + n];
            couplingD = east[d + n];
        }
        u[a + last] = (lineA[last] + couplingA * beforeA + east[a + last] * u[a]) * inverse[a + last];
        u[b + last] = (lineB[last] + couplingB * beforeB + east[b + last] * u[b]) * inverse[b + last];
        u[c + last] = (lineC[last] + couplingC * beforeC + east[c + last] * u[c]) * inverse[c + last];
        u[d + last] = (lineD[last] + couplingD * beforeD + east[d + last] * u[d]) * inverse[d + last];
    }

    /** Does the same from the last column to the first. */
    private void backwards(int first, float[] line) {
        int last = columns - 1;
        float after = u[first];
        for (int n = last; n > 0; n--) {
            after = (line[n] + east[first + n] * after) * inverse[first + n];
            u[first + n] = after;
        }
        u[first] = (line[0] + east[first] * after + east[first + last] * u[first + last]) * inverse[first];
    }

    private void backwards(int a, int step, float[][] lines) {
        int b = a + step;
        int c = b + step;
        int d = c + step;
        int last = columns - 1;
        float[] lineA = lines[0];
        float[] lineB = lines[1];
        float[] lineC = lines[2];
        float[] lineD = lines[3];
        float afterA = u[a];
        float afterB = u[b];
        float afterC = u[c];
        float afterD = u[d];
        for (int n = last; n > 0; n--) {
            afterA = (lineA[n] + east[a + n] * afterA) * inverse[a + n];
            afterB = (lineB[n] + east[b + n] * afterB) * inverse[b + n];
            afterC = (lineC[n] + east[c + n] * afterC) * inverse[c + n];
            afterD = (lineD[n] + east[d + n] * afterD) * inverse[d + n];
            u[a + n] = afterA;
            u[b + n] = afterB;
            u[c + n] = afterC;
            u[d + n] = afterD;
        }
        u[a] = (lineA[0] + east[a] * afterA + east[a + last] * u[a + last]) * inverse[a];
        u[b] = (lineB[0] + east[b] * afterB + east[b + last] * u[b + last]) * inverse[b];
        u[c] = (lineC[0] + east[c] * afterC + east[c + last] * u[c + last]) * inverse[c];
        u[d] = (lineD[0] + east[d] * afterD + east[d + last] * u[d + last]) * inverse[d];
    }

    /** Puts down f of a row and what the rows next to it add, and the cell behind each. */
    private void across(int row, float[] line) {
        int first = row * columns;
        int below = first + below(row);
        int above = first + above(row);
        int last = columns - 1;
        for (int n = 0; n < last; n++) {
            line[n] = f[first + n]
                    + north[first + n] * u[above + n]
                    + north[below + n] * u[below + n]
                    + east[first + n] * u[first + n + 1];
        }
        line[last] = f[first + last] + north[first + last] * u[above + last] + north[below + last] * u[below + last];
    }

    /** The same with the cell before each. */
    private void acrossBack(int row, float[] line) {
        int first = row * columns;
        int below = first + below(row);
        int above = first + above(row);
        line[0] = f[first] + north[first] * u[above] + north[below] * u[below];
        for (int n = 1; n < columns; n++) {
            line[n] = f[first + n]
                    + north[first + n] * u[above + n]
                    + north[below + n] * u[below + n]
                    + east[first + n - 1] * u[first + n - 1];
        }
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
        next.all.share(0, 1, next.rows, (first, stop) -> gather(next, first, stop));
        Arrays.fill(next.u, 0);
        for (int n = 0; n < VISITS; n++) {
            next.cycle();
        }
        all.each(row -> {
            int c = row / 2 * next.columns;
            for (int column = 0; column < columns; column++) {
                u[row * columns + column] += next.u[c + column / 2];
            }
        });
        sweep(true);
    }

    /** Adds up what is left in each square of some rows of them. */
    private void gather(LandLevel next, int from, int stop) {
        float[] left = new float[columns];
        for (int coarseRow = from; coarseRow < stop; coarseRow++) {
            int coarse = coarseRow * next.columns;
            Arrays.fill(next.f, coarse, coarse + next.columns, 0);
            for (int row = 2 * coarseRow; row < Math.min(rows, 2 * coarseRow + 2); row++) {
                leave(row, left);
                for (int column = 0; column < columns; column++) {
                    next.f[coarse + column / 2] += left[column];
                }
            }
        }
    }

    /** Puts down what the matrix times u lacks of f in a row. */
    private void leave(int row, float[] left) {
        int first = row * columns;
        int last = columns - 1;
        int below = first + below(row);
        int above = first + above(row);
        for (int n = 1; n < last; n++) {
            left[n] = f[first + n]
                    + north[first + n] * u[above + n]
                    + north[below + n] * u[below + n]
                    - diagonal[first + n] * u[first + n]
                    + east[first + n] * u[first + n + 1]
                    + east[first + n - 1] * u[first + n - 1];
        }
        for (int n : last == 0 ? new int[] {0} : new int[] {0, last}) {
            int after = n == last ? first : first + 1;
            int before = first + (n == 0 ? last : last - 1);
            left[n] = f[first + n]
                    + north[first + n] * u[above + n]
                    + north[below + n] * u[below + n]
                    - diagonal[first + n] * u[first + n]
                    + east[first + n] * u[after]
                    + east[before] * u[before];
        }
    }
}
