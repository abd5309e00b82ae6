package org.evenstamp.samples.bench;

import java.util.Arrays;

/**
 * Several measurements of one thing.
 *
 * @param median the middle one, or the mean of the two in the middle
 * @param least the smallest
 * @param most the largest
 * @param count how many
 */
record Spread(double median, double least, double most, int count) {
    /**
     * Returns the spread of some numbers.
     *
     * @throws IllegalArgumentException when there are none
     */
    static Spread of(double... values) {
        if (values.length == 0) {
            throw new IllegalArgumentException("a spread needs a measurement");
        }
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int n = sorted.length;
        return new Spread((sorted[(n - 1) / 2] + sorted[n / 2]) / 2, sorted[0], sorted[n - 1], n);
    }
}
