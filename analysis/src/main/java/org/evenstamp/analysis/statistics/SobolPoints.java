package org.evenstamp.analysis.statistics;

import java.util.SplittableRandom;
import org.apache.commons.math3.random.SobolSequenceGenerator;

/**
 * Sobol's points, scrambled: each coordinate's binary digits are multiplied by a random lower triangular matrix and shifted by
 * random digits. The points fill the cube as evenly as the plain ones, every point alone is uniformly distributed, and other
 * seeds give independent estimates.
 *
 * <p>Source: I.M. Sobol, USSR Comput. Math. Math. Phys. 7 (1967) 86; scrambling after J. Matousek, J. Complexity 14 (1998) 527
 * (both from memory). The plain points are those of Apache Commons Math with the direction numbers of S. Joe and F.Y. Kuo.
 * Validity: up to 1000 coordinates and 2^30 points.
 */
public final class SobolPoints implements UnitPoints {
    private static final int DIGITS = 32;
    private static final double SCALE = 0x1p-52;

    private final int dimensions;
    private final SobolSequenceGenerator plain;
    private final int[][] columns;
    private final long[] shift;

    /**
     * Creates a scrambled set.
     *
     * @param dimensions coordinates of a point, 1 to 1000
     * @param seed another seed gives another scrambling
     */
    public SobolPoints(int dimensions, long seed) {
        this.plain = new SobolSequenceGenerator(dimensions);
        this.dimensions = dimensions;
        this.columns = new int[dimensions][DIGITS];
        this.shift = new long[dimensions];
        SplittableRandom random = new SplittableRandom(seed);
        for (int d = 0; d < dimensions; d++) {
            for (int digit = 0; digit < DIGITS; digit++) {
                // Column of the digit: itself, and any digits of less weight.
                int own = 1 << (DIGITS - 1 - digit);
                columns[d][digit] = own | (random.nextInt() & (own - 1));
            }
            shift[d] = random.nextLong() >>> 12; // 52 digits, so that no coordinate is a round number
        }
    }

    @Override
    public int dimensions() {
        return dimensions;
    }

    @Override
    public double[] point(int index) {
        double[] point = plain(index);
        for (int d = 0; d < dimensions; d++) {
            long digits = (long) (point[d] * 0x1p32);
            int scrambled = 0;
            for (int digit = 0; digit < DIGITS; digit++) {
                if ((digits >>> (DIGITS - 1 - digit) & 1) != 0) {
                    scrambled ^= columns[d][digit];
                }
            }
            long shifted = (Integer.toUnsignedLong(scrambled) << 20) ^ shift[d];
            point[d] = (shifted + 0.5) * SCALE;
        }
        return point;
    }

    private double[] plain(int index) {
        synchronized (plain) { // it remembers where it is
            return plain.skipTo(index);
        }
    }
}
