package org.evenstamp.geometry.measure;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntConsumer;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/**
 * One matrix of a multigrid cycle: symmetric, five points, diagonal not below the sum of its couplings.
 *
 * <p>Rows of one colour do not touch each other, so threads share them out and every number stays what it is on one thread.
 */
final class LandLevel {
    private static final int COARSEST = 64;
    private static final int COARSEST_SWEEPS = 40;
    /** Times a coarser matrix is visited: twice takes half the iterations of once, for a quarter more work each. */
    private static final int VISITS = 2;
    /** Cells from which a pass over the map is worth a second thread. */
    private static final int SHARED = 200_000;
    /** Parts each thread takes of a pass, so that none waits long for another. */
    private static final int PARTS = 4;

    final int columns;
    final int rows;
    final boolean periodic;
    final double[] east;
    final double[] north;
    final double[] diagonal;
    final double[] u;
    final double[] f;
    private final double[] inverse;
    private final int threads;

    @Nullable
    LandLevel coarser;

    LandLevel(int columns, int rows, boolean periodic, int threads) {
        this.columns = columns;
        this.rows = rows;
        this.periodic = periodic;
        this.threads = threads;
        east = new double[columns * rows];
        north = new double[columns * rows];
        diagonal = new double[columns * rows];
        inverse = new double[columns * rows];
        u = new double[columns * rows];
        f = new double[columns * rows];
    }

    void coarsen() {
        for (int i = 0; i < diagonal.length; i++) {
            inverse[i] = diagonal[i] > 0 ? 1 / diagonal[i] : 0;
        }
        if (columns * rows <= COARSEST) {
            return;
        }
        LandLevel next = new LandLevel((columns + 1) / 2, (rows + 1) / 2, periodic, threads);
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

    /** Does something with every {@code step}-th row from the first one to before the end, on several threads where that pays. */
    void forRows(int first, int step, int end, IntConsumer work) {
        int count = (end - first + step - 1) / step;
        int parts = threads > 1 && columns * rows >= SHARED ? Math.min(count, threads * PARTS) : 1;
        List<Integer> numbers = IntStream.range(0, parts).boxed().toList();
        Workers.forEach(numbers, threads, part -> {
            int stop = first + step * (int) ((long) count * (part + 1) / parts);
            for (int row = first + step * (int) ((long) count * part / parts); row < stop; row += step) {
                work.accept(row);
            }
        });
    }

    /** Does the same with all rows and adds up what each of them gives, in their order. */
    double sumRows(IntToDoubleFunction work) {
        double[] sums = new double[rows];
        forRows(0, 1, rows, row -> sums[row] = work.applyAsDouble(row));
        double sum = 0;
        for (double part : sums) {
            sum += part;
        }
        return sum;
    }

    /** One sweep of Gauss and Seidel, onwards or back: every second row, then those between. */
    private void sweep(boolean back) {
        // The last of an odd number of rows that go round touches the first: it comes by itself.
        boolean extra = periodic && rows % 2 == 1 && rows > 1;
        if (back) {
            if (extra) {
                relaxBack(rows - 1);
            }
            forRows(1, 2, rows, this::relaxBack);
            forRows(0, 2, extra ? rows - 1 : rows, this::relaxBack);
        } else {
            forRows(0, 2, extra ? rows - 1 : rows, this::relax);
            forRows(1, 2, rows, this::relax);
            if (extra) {
                relax(rows - 1);
            }
        }
    }

    private void relax(int row) {
        int first = row * columns;
        int last = first + columns - 1;
        int below = below(row);
        int above = above(row);
        double round = u[last];
        for (int i = first; i < last; i++) {
            u[i] = f[i] + north[i] * u[i + above] + north[i + below] * u[i + below] + east[i] * u[i + 1];
        }
        u[last] = f[last] + north[last] * u[last + above] + north[last + below] * u[last + below];
        double before = round;
        double coupling = east[last];
        for (int i = first; i < last; i++) {
            before = (u[i] + coupling * before) * inverse[i];
            u[i] = before;
            coupling = east[i];
        }
        u[last] = (u[last] + coupling * before + east[last] * (columns == 1 ? round : u[first])) * inverse[last];
    }

    /** Does the same from the last column to the first. */
    private void relaxBack(int row) {
        int first = row * columns;
        int last = first + columns - 1;
        int below = below(row);
        int above = above(row);
        double round = u[first];
        for (int i = last; i > first; i--) {
            u[i] = f[i] + north[i] * u[i + above] + north[i + below] * u[i + below] + east[i - 1] * u[i - 1];
        }
        u[first] = f[first] + north[first] * u[first + above] + north[first + below] * u[first + below];
        double after = round;
        for (int i = last; i > first; i--) {
            after = (u[i] + east[i] * after) * inverse[i];
            u[i] = after;
        }
        u[first] = (u[first] + east[first] * after + east[last] * (columns == 1 ? round : u[last])) * inverse[first];
    }

    /** Puts a row of the matrix times x into {@code image}, from {@code start} on. */
    void times(double[] x, int row, double[] image, int start) {
        int first = row * columns;
        int last = columns - 1;
        int below = first + below(row);
        int above = first + above(row);
        for (int n = 0; n <= last; n++) {
            image[start + n] = diagonal[first + n] * x[first + n]
                    - north[first + n] * x[above + n]
                    - north[below + n] * x[below + n];
        }
        for (int n = 0; n < last; n++) {
            image[start + n] -= east[first + n] * x[first + n + 1];
        }
        for (int n = 1; n <= last; n++) {
            image[start + n] -= east[first + n - 1] * x[first + n - 1];
        }
        image[start + last] -= east[first + last] * x[first];
        image[start] -= east[first + last] * x[first + last];
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
        next.forRows(0, 1, next.rows, row -> gather(next, row));
        Arrays.fill(next.u, 0);
        for (int n = 0; n < VISITS; n++) {
            next.cycle();
        }
        forRows(0, 1, rows, row -> {
            int c = row / 2 * next.columns;
            for (int column = 0; column < columns; column++) {
                u[row * columns + column] += next.u[c + column / 2];
            }
        });
        sweep(true);
    }

    /** Adds up what is left in each square of a row of them. */
    private void gather(LandLevel next, int coarseRow) {
        int first = coarseRow * next.columns;
        Arrays.fill(next.f, first, first + next.columns, 0);
        double[] image = new double[columns];
        for (int row = 2 * coarseRow; row < Math.min(rows, 2 * coarseRow + 2); row++) {
            times(u, row, image, 0);
            for (int column = 0; column < columns; column++) {
                next.f[first + column / 2] += f[row * columns + column] - image[column];
            }
        }
    }
}
