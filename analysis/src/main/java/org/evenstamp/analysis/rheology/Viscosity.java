package org.evenstamp.analysis.rheology;

import java.util.Locale;
import java.util.Optional;

/**
 * A viscosity and how far it can be trusted.
 *
 * @param pascalSeconds zero-shear viscosity, finite and positive
 * @param kelvin temperature it was asked for
 * @param valid where the law holds; outside, the number is an extrapolation
 */
public record Viscosity(double pascalSeconds, double kelvin, TemperatureRange valid) {

    /** Returns whether the law holds at this temperature. */
    public boolean isInsideValidity() {
        return valid.contains(kelvin);
    }

    /** Returns what to tell the user when the law does not hold here. */
    public Optional<Caution> caution() {
        return isInsideValidity()
                ? Optional.empty()
                : Optional.of(new Caution(
                        "rheology.extrapolated",
                        String.format(
                                Locale.ROOT,
                                "viscosity %.3g Pa s at %s is an extrapolation: the law holds from %s",
                                pascalSeconds,
                                TemperatureRange.celsius(kelvin),
                                valid)));
    }
}
