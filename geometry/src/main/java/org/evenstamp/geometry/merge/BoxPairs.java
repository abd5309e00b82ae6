package org.evenstamp.geometry.merge;

import java.util.Arrays;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;

/**
 * Finds all pairs of boxes that overlap or touch.
 *
 * <p>The plane is cut into horizontal strips about two boxes high; within a strip the boxes are sorted by their left ends
 * and each is compared with those that begin before it ends. A pair is reported by the strip in which the upper one of
 * the two lower ends lies, hence once. Time grows as n log n for boxes that are spread out.
 */
public final class BoxPairs {
    private static final int X0 = 0;
    private static final int Y0 = 1;
    private static final int X1 = 2;
    private static final int Y1 = 3;

    private final float[] boxes;
    private final int count;
    private final long budget;
    private final double minY;
    private final double stripHeight;
    private final int strips;

    /**
     * Prepares the search.
     *
     * @param boxes left, lower, right and upper end of each box; a box with right below left takes no part
     * @param budget largest number of pairs wanted
     */
    public BoxPairs(float[] boxes, long budget) {
        this.boxes = boxes;
        this.count = boxes.length / 4;
        this.budget = budget;
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        double heights = 0;
        int used = 0;
        for (int i = 0; i < count; i++) {
            if (takesPart(i)) {
                low = Math.min(low, boxes[4 * i + Y0]);
                high = Math.max(high, boxes[4 * i + Y1]);
                heights += (double) boxes[4 * i + Y1] - boxes[4 * i + Y0];
                used++;
            }
        }
        if (used == 0) {
            minY = 0;
            stripHeight = 1;
            strips = 1;
        } else {
            minY = low;
            double wanted = (high - low) / Math.max(2 * heights / used, Double.MIN_NORMAL);
            strips = (int) Math.max(1, Math.min(wanted, used / 8.0));
            stripHeight = Math.max((high - low) / strips, Double.MIN_NORMAL);
        }
    }

    private boolean takesPart(int box) {
        return boxes[4 * box + X1] >= boxes[4 * box + X0];
    }

    private int strip(float y) {
        return (int) Math.min(strips - 1, Math.max(0, Math.floor((y - minY) / stripHeight)));
    }

    /**
     * Returns the pairs, each as {@code (long) smaller << 32 | larger}, in ascending order; fewer than there are once the
     * budget is reached, which {@code pairs.length > budget} tells.
     */
    public long[] find(int threads, Stage stage) {
        int[] start = new int[strips + 1];
        for (int i = 0; i < count; i++) {
            if (takesPart(i)) {
                for (int s = strip(boxes[4 * i + Y0]); s <= strip(boxes[4 * i + Y1]); s++) {
                    start[s + 1]++;
                }
            }
        }
        for (int s = 0; s < strips; s++) {
            start[s + 1] += start[s];
        }
        int[] members = new int[start[strips]];
        int[] next = Arrays.copyOf(start, strips);
        for (int i = 0; i < count; i++) {
            if (takesPart(i)) {
                for (int s = strip(boxes[4 * i + Y0]); s <= strip(boxes[4 * i + Y1]); s++) {
                    members[next[s]++] = i;
                }
            }
        }
        AtomicInteger nextStrip = new AtomicInteger();
        AtomicLong total = new AtomicLong();
        List<long[]> found = Workers.run(threads, () -> {
            Sweep sweep = new Sweep();
            int s;
            while ((s = nextStrip.getAndIncrement()) < strips && total.get() <= budget) {
                int before = sweep.size;
                sweep.run(s, members, start[s], start[s + 1]);
                total.addAndGet(sweep.size - before);
                stage.advance(start[s + 1] - start[s]);
            }
            return Arrays.copyOf(sweep.pairs, sweep.size);
        });
        long[] all = new long[found.stream().mapToInt(pairs -> pairs.length).sum()];
        int at = 0;
        for (long[] pairs : found) {
            System.arraycopy(pairs, 0, all, at, pairs.length);
            at += pairs.length;
        }
        Arrays.sort(all);
        return all;
    }

    /** One worker's sweep through strips, with its buffers. */
    private final class Sweep {
        private long[] pairs = new long[1024];
        private int size;
        private long[] order = new long[0];

        void run(int strip, int[] members, int from, int to) {
            int n = to - from;
            if (order.length < n) {
                order = new long[n + n / 2];
            }
            for (int i = 0; i < n; i++) {
                int box = members[from + i];
                order[i] = (long) sortable(boxes[4 * box + X0]) << 32 | box;
            }
            Arrays.sort(order, 0, n);
            for (int i = 0; i < n; i++) {
                int a = (int) order[i];
                float right = boxes[4 * a + X1];
                float lower = boxes[4 * a + Y0];
                float upper = boxes[4 * a + Y1];
                for (int j = i + 1; j < n; j++) {
                    int b = (int) order[j];
                    if (boxes[4 * b + X0] > right) {
                        break;
                    }
                    if (boxes[4 * b + Y0] <= upper
                            && boxes[4 * b + Y1] >= lower
                            && strip(Math.max(lower, boxes[4 * b + Y0])) == strip) {
                        if (size == pairs.length) {
                            pairs = Arrays.copyOf(pairs, 2 * size);
                        }
                        pairs[size++] = (long) Math.min(a, b) << 32 | Math.max(a, b);
                        if (size > budget) {
                            return;
                        }
                    }
                }
            }
        }

        /** An int that sorts as the float does. */
        private static int sortable(float value) {
            int bits = Float.floatToIntBits(value);
            return bits >= 0 ? bits : bits ^ 0x7fffffff;
        }
    }
}
