package org.evenstamp.geometry.measure;

import java.util.List;
import java.util.function.IntConsumer;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.evenstamp.shared.thread.Workers;

/** Does something with the rows of a map, on several threads where that pays. */
final class LandRows {
    /** Cells from which a pass over the map is worth a second thread. */
    private static final int SHARED = 500_000;
    /** Parts each thread takes of a pass, so that none waits long for another. */
    private static final int PARTS = 4;

    private final int rows;
    private final int threads;

    /** Takes a map of these sizes on. */
    LandRows(int columns, int rows, int threads) {
        this.rows = rows;
        this.threads = (long) columns * rows >= SHARED ? threads : 1;
    }

    /** Work on the rows from one to before a stop. */
    interface Part {
        void of(int first, int stop);
    }

    /** Shares out every {@code step}-th row from the first one to before the end: each part begins with one of them. */
    void share(int first, int step, int end, Part work) {
        int count = (end - first + step - 1) / step;
        int parts = threads > 1 ? Math.min(count, threads * PARTS) : 1;
        List<Integer> numbers = IntStream.range(0, parts).boxed().toList();
        Workers.forEach(
                numbers,
                threads,
                part -> work.of(
                        first + step * (int) ((long) count * part / parts),
                        first + step * (int) ((long) count * (part + 1) / parts)));
    }

    /** Does something with every row. */
    void each(IntConsumer work) {
        share(0, 1, rows, (first, stop) -> {
            for (int row = first; row < stop; row++) {
                work.accept(row);
            }
        });
    }

    /** Does the same with all rows and adds up what each of them gives, in their order. */
    double sum(IntToDoubleFunction work) {
        double[] sums = new double[rows];
        each(row -> sums[row] = work.applyAsDouble(row));
        double sum = 0;
        for (double part : sums) {
            sum += part;
        }
        return sum;
    }
}
