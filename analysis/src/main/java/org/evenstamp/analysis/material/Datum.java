package org.evenstamp.analysis.material;

import java.util.Optional;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.shared.unit.Quantity;

/**
 * One number of a material.
 *
 * @param property what it is
 * @param value the number with the unit it was stated in
 * @param spread least and most of the published values, when they differ
 * @param atKelvin temperature it was taken at, when it matters
 * @param valid temperatures for which it may be used, when they are known
 * @param standing how well it is known
 * @param source where it comes from, never empty
 */
public record Datum(
        Property property,
        Quantity value,
        Optional<Spread> spread,
        Optional<Double> atKelvin,
        Optional<TemperatureRange> valid,
        Provenance standing,
        String source) {

    /**
     * Least and most.
     *
     * @param least smallest value, in SI
     * @param most largest value, in SI
     */
    public record Spread(double least, double most) {}

    /** Returns the number in SI. */
    public double si() {
        return value.si();
    }
}
