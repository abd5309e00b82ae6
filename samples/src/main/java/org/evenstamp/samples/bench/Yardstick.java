package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.Arrays;
import java.util.Locale;
import java.util.SplittableRandom;
import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.jtransforms.fft.DoubleFFT_2D;
import org.jtransforms.utils.CommonUtils;

/**
 * What one core of the machine can do, so that figures from different machines can be compared: bandwidth, arithmetic, and
 * a library's Fourier transforms beside the film solve's filter. All in processor time of one thread, the best of some runs.
 */
final class Yardstick {
    private static final int LEAST_RUNS = 3;
    private static final int CACHED = 1024; // numbers that stay in the fastest cache
    private static final ThreadMXBean THREADS = ManagementFactory.getThreadMXBean();

    private Yardstick() {}

    /**
     * Measures.
     *
     * @param tiles along a side of the map that is filtered
     * @param streamed numbers in each array of the triad
     * @param budgetNanos processor time for each figure, in ns: enough that its code is compiled
     * @return one JSON object
     */
    static String measure(int tiles, int streamed, long budgetNanos) {
        double[] a = new double[streamed];
        double[] b = numbers(streamed);
        double[] c = numbers(streamed);
        double triad = best(budgetNanos, () -> triad(a, b, c));
        double[] few = numbers(CACHED);
        int rounds = 1000;
        double[] kept = new double[1]; // what nobody reads
        double scalar = best(budgetNanos, () -> kept[0] = chains(few, rounds));
        double vector = best(budgetNanos, () -> polynomial(few, rounds));
        double[] map = numbers(tiles * tiles);
        double[] spectrum = new double[2 * tiles * tiles];
        CommonUtils.setThreadsBeginN_2D(Long.MAX_VALUE); // one thread
        DoubleFFT_2D library = new DoubleFFT_2D(tiles, tiles);
        double transforms = best(budgetNanos, () -> {
            System.arraycopy(map, 0, spectrum, 0, map.length);
            library.realForward(spectrum);
            library.realInverse(spectrum, true);
        });
        try (ThreadTeam team = new ThreadTeam(1)) {
            SpectralFilter filter = new SpectralFilter(tiles, tiles, team);
            double[] symbol = new double[filter.symbolSize()];
            Arrays.fill(symbol, 1);
            double[] out = new double[map.length];
            double filtered = best(budgetNanos, () -> filter.apply(map, symbol, out));
            return String.format(
                    Locale.ROOT,
                    "{\"triad_GB_per_s\": %.1f, \"scalar_Gflop_per_s\": %.1f, \"vector_Gflop_per_s\": %.1f, \"tiles\": %d,"
                            + " \"library_transforms_ms\": %.3f, \"filter_ms\": %.3f}",
                    24.0 * streamed / triad,
                    2.0 * CACHED * rounds / scalar,
                    8.0 * CACHED * rounds / vector,
                    tiles,
                    transforms * 1e-6,
                    filtered * 1e-6);
        }
    }

    private static double[] numbers(int count) {
        return new SplittableRandom(1).doubles(count, 0, 1).toArray();
    }

    /** Returns the shortest processor time of the work, in ns. */
    private static double best(long budgetNanos, Runnable work) {
        double shortest = Double.POSITIVE_INFINITY;
        long begun = THREADS.getCurrentThreadCpuTime();
        long now = begun;
        for (int run = 0; run < LEAST_RUNS || now - begun < budgetNanos; run++) {
            long start = now;
            work.run();
            now = THREADS.getCurrentThreadCpuTime();
            shortest = Math.min(shortest, (double) Math.max(1, now - start));
        }
        return shortest;
    }

    private static void triad(double[] a, double[] b, double[] c) {
        for (int i = 0; i < a.length; i++) {
            a[i] = b[i] + 3 * c[i];
        }
    }

    /** Sums of products in four chains, which the compiler leaves as scalars. */
    private static double chains(double[] x, int rounds) {
        double s = 0;
        double t = 0;
        double u = 0;
        double v = 0;
        for (int round = 0; round < rounds; round++) {
            for (int i = 0; i < x.length; i += 4) {
                s += x[i] * x[i];
                t += x[i + 1] * x[i + 1];
                u += x[i + 2] * x[i + 2];
                v += x[i + 3] * x[i + 3];
            }
        }
        return s + t + u + v;
    }

    /** Eight sums and products a number, in a loop that the compiler makes vector code of. */
    private static void polynomial(double[] x, int rounds) {
        for (int round = 0; round < rounds; round++) {
            for (int i = 0; i < x.length; i++) {
                double y = x[i];
                x[i] = (((y * 0.25 + 0.25) * y + 0.125) * y + 0.125) * y + 0.1;
            }
        }
    }
}
