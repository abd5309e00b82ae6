package org.evenstamp.analysis.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/**
 * How much of the variance of an answer each input is to blame for.
 *
 * <p>The first-order index of an input is the share of the variance that goes when that input alone is known; the total index
 * is the share that stays when all others are known. Both come from runs at {@code n} pairs of independent points A and B and
 * at A with one coordinate of B at a time: {@code n (2 + inputs)} runs.
 *
 * <p>Source: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259 for the first-order estimator, M.J.W. Jansen, Comput.
 * Phys. Commun. 117 (1999) 35 for the total one (both from memory); checked against closed forms of the Ishigami function and
 * Sobol's g-function. Intervals are 95 % by resampling the pairs. Validity: independent inputs.
 *
 * @param variance variance of the answer
 * @param first first-order index of each input, with its interval
 * @param total total index of each input, with its interval
 */
public record SobolIndices(double variance, List<Estimate> first, List<Estimate> total) {
    private static final int RESAMPLES = 500;

    /** Copies the lists. */
    public SobolIndices {
        first = List.copyOf(first);
        total = List.copyOf(total);
    }

    /**
     * An index.
     *
     * @param value best estimate; noise can take it a little below 0 or above 1
     * @param least lower end of its interval
     * @param most upper end
     */
    public record Estimate(double value, double least, double most) {}

    /**
     * Returns the point at which a run is wanted.
     *
     * @param points of twice as many coordinates as there are inputs: A in the first half, B in the second
     * @param index number of the pair
     * @param part -2 for A, -1 for B, else the input that A takes from B
     */
    public static double[] point(UnitPoints points, int index, int part) {
        double[] both = points.point(index);
        int inputs = both.length / 2;
        double[] point = Arrays.copyOfRange(both, part == -1 ? inputs : 0, part == -1 ? 2 * inputs : inputs);
        if (part >= 0) {
            point[part] = both[inputs + part];
        }
        return point;
    }

    /**
     * Returns the indices from the answers of the runs.
     *
     * @param a answers at A, one a pair; all finite
     * @param b answers at B
     * @param mixed answers at A with one coordinate of B, by input and pair
     * @param seed of the resampling
     * @throws IllegalArgumentException when there are fewer than two pairs, or the answer does not vary
     */
    public static SobolIndices of(double[] a, double[] b, double[][] mixed, long seed) {
        int n = a.length;
        if (n < 2 || b.length != n || Arrays.stream(mixed).anyMatch(row -> row.length != n)) {
            throw new IllegalArgumentException("answers of " + n + " and " + b.length + " pairs");
        }
        int[] all = new int[n];
        Arrays.setAll(all, i -> i);
        double variance = variance(a, b, all);
        if (!(variance > 0)) {
            throw new IllegalArgumentException("the answer does not vary");
        }
        int inputs = mixed.length;
        double[][][] resampled = new double[2][inputs][RESAMPLES];
        SplittableRandom random = new SplittableRandom(seed);
        for (int r = 0; r < RESAMPLES; r++) {
            int[] drawn = random.ints(n, 0, n).toArray();
            double spread = variance(a, b, drawn);
            for (int k = 0; k < inputs; k++) {
                resampled[0][k][r] = first(a, b, mixed[k], drawn) / spread;
                resampled[1][k][r] = total(a, mixed[k], drawn) / spread;
            }
        }
        List<Estimate> first = new ArrayList<>();
        List<Estimate> total = new ArrayList<>();
        for (int k = 0; k < inputs; k++) {
            first.add(estimate(first(a, b, mixed[k], all) / variance, resampled[0][k]));
            total.add(estimate(total(a, mixed[k], all) / variance, resampled[1][k]));
        }
        return new SobolIndices(variance, first, total);
    }

    private static Estimate estimate(double value, double[] resampled) {
        double[] sorted =
                Arrays.stream(resampled).filter(Double::isFinite).sorted().toArray();
        int tail = sorted.length / 40;
        return sorted.length == 0
                ? new Estimate(value, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY)
                : new Estimate(value, sorted[tail], sorted[sorted.length - 1 - tail]);
    }

    private static double variance(double[] a, double[] b, int[] drawn) {
        double mean = 0;
        for (int i : drawn) {
            mean += a[i] + b[i];
        }
        mean /= 2.0 * drawn.length;
        double sum = 0;
        for (int i : drawn) {
            sum += (a[i] - mean) * (a[i] - mean) + (b[i] - mean) * (b[i] - mean);
        }
        return sum / (2.0 * drawn.length - 1);
    }

    private static double first(double[] a, double[] b, double[] mixed, int[] drawn) {
        double mean = 0; // taken off b: changes nothing on average and lowers the noise
        for (int i : drawn) {
            mean += b[i];
        }
        mean /= drawn.length;
        double sum = 0;
        for (int i : drawn) {
            sum += (b[i] - mean) * (mixed[i] - a[i]);
        }
        return sum / drawn.length;
    }

    private static double total(double[] a, double[] mixed, int[] drawn) {
        double sum = 0;
        for (int i : drawn) {
            sum += (a[i] - mixed[i]) * (a[i] - mixed[i]);
        }
        return sum / (2.0 * drawn.length);
    }
}
