package org.evenstamp.analysis.process;

import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * Cure of the first order in the dose: of the double bonds that are left, equal doses take equal shares, {@code X = 1 - exp(-E/E0)}.
 *
 * <p>The simplest of the laws in M. Lang and others, Polymers 14 (2022) 2074 (a review of cure kinetics, abstract read; the form from memory). Validity: one
 * irradiance, since reciprocity of irradiance and time is assumed; no delay by oxygen, no slowing down when the network turns to glass, no
 * cure in the dark.
 *
 * @param scale E0, the dose that leaves 1/e of the double bonds, J/m²
 */
public record CureLaw(double scale) {
    /** Conversion at the dose that the film needs. */
    public static final Quantity AT_DOSE = Quantity.optional(
            "film.cure-conversion",
            "%",
            0.1,
            99.99,
            "share of the film's double bonds that have reacted after film.dose; without it the conversion is not told");
    /** Conversion at the gel point. */
    public static final Quantity AT_GEL = Quantity.optional(
            "film.gel-conversion",
            "%",
            0.01,
            99.9,
            "share of the film's double bonds that have reacted when it gels, and no longer flows; without it the gel time is not told");

    /** Returns the law of a film whose conversion at the dose it needs is known. */
    public static Optional<CureLaw> of(Parameters p) {
        OptionalDouble conversion = p.find(AT_DOSE.id());
        return conversion.isEmpty()
                ? Optional.empty()
                : Optional.of(through(p.quantity(ProcessParameters.DOSE.id()), conversion.getAsDouble()));
    }

    /** Returns the law by which a dose in J/m² gives a conversion in (0, 1). */
    public static CureLaw through(double dose, double conversion) {
        return new CureLaw(dose / -Math.log1p(-conversion));
    }

    /** Returns the conversion after a dose in J/m². */
    public double conversion(double dose) {
        return -Math.expm1(-dose / scale);
    }

    /** Returns the dose in J/m² that gives a conversion in [0, 1). */
    public double dose(double conversion) {
        return -scale * Math.log1p(-conversion);
    }
}
