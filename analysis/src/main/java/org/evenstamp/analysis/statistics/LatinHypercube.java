package org.evenstamp.analysis.statistics;

import java.util.SplittableRandom;

/**
 * Points of which every coordinate has exactly one in each of {@code count} equal slices, in random order.
 *
 * <p>Source: M.D. McKay, R.J. Beckman, W.J. Conover, Technometrics 21 (1979) 239 (from memory).
 */
public final class LatinHypercube implements UnitPoints {
    private final int count;
    private final double[][] coordinates;

    /**
     * Creates a set.
     *
     * @param dimensions coordinates of a point, at least 1
     * @param count number of points, at least 1
     * @param seed another seed gives another set
     */
    public LatinHypercube(int dimensions, int count, long seed) {
        if (dimensions < 1 || count < 1) {
            throw new IllegalArgumentException(
                    "at least one coordinate and one point, not " + dimensions + " and " + count);
        }
        this.count = count;
        this.coordinates = new double[dimensions][];
        SplittableRandom random = new SplittableRandom(seed);
        for (int d = 0; d < dimensions; d++) {
            int[] slices = shuffled(count, random);
            double[] values = new double[count];
            for (int i = 0; i < count; i++) {
                values[i] = (slices[i] + Math.max(random.nextDouble(), 0x1p-53)) / count;
            }
            coordinates[d] = values;
        }
    }

    private static int[] shuffled(int count, SplittableRandom random) {
        int[] order = new int[count];
        for (int i = 0; i < count; i++) {
            int j = random.nextInt(i + 1);
            order[i] = order[j];
            order[j] = i;
        }
        return order;
    }

    @Override
    public int dimensions() {
        return coordinates.length;
    }

    @Override
    public double[] point(int index) {
        if (index < 0 || index >= count) {
            throw new IndexOutOfBoundsException("there are " + count + " points, not one of number " + index);
        }
        double[] point = new double[coordinates.length];
        for (int d = 0; d < point.length; d++) {
            point[d] = coordinates[d][index];
        }
        return point;
    }
}
