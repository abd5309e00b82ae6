package org.evenstamp.engine.result;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.unit.Unit;

/**
 * A field in a few numbers, in its display unit; all zero when no tile has a value.
 *
 * @param min smallest value
 * @param mean mean over the tiles with a value
 * @param max largest value
 * @param sigma standard deviation of the population of tiles with a value
 * @param known number of tiles with a value
 */
public record FieldStatistics(double min, double mean, double max, double sigma, int known) {

    private static final double ROUNDING = 1e-12;

    /** Goes through the field's tiles. */
    public static FieldStatistics of(Field field) {
        Unit unit = field.name().unit();
        int known = 0;
        double min = Double.POSITIVE_INFINITY;
        double max = Double.NEGATIVE_INFINITY;
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < field.grid().size(); i++) {
            if (field.known(i)) {
                double value = unit.fromSi(field.at(i));
                known++;
                min = Math.min(min, value);
                max = Math.max(max, value);
                // Welford's recurrence: no cancellation when the spread is small beside the mean.
                double step = value - mean;
                mean += step / known;
                squares += step * (value - mean);
            }
        }
        if (Math.abs(mean) < ROUNDING * Math.max(Math.abs(min), Math.abs(max))) {
            mean = 0; // what is left where positive and negative values cancel
        }
        return known == 0
                ? new FieldStatistics(0, 0, 0, 0, 0)
                : new FieldStatistics(min, Math.min(max, Math.max(min, mean)), max, Math.sqrt(squares / known), known);
    }
}
