package org.evenstamp.analysis.rheology;

import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/** Zero-shear viscosity of a film against temperature. Immutable; falls as the temperature rises. */
public sealed interface ViscosityLaw permits Wlf, Arrhenius, TabulatedViscosity, Newtonian {

    /** Returns the temperature at and below which the film is a solid, K; 0 for a liquid that only curing makes solid. */
    double glassKelvin();

    /** Returns where the law holds; it can be evaluated outside, but not below the glass temperature. */
    TemperatureRange valid();

    /**
     * Returns the zero-shear viscosity in Pa s, finite and positive.
     *
     * @throws InputException when the temperature is below {@link #glassKelvin()}, where the film does not flow
     */
    double pascalSeconds(double kelvin);

    /**
     * Returns the viscosity together with its validity.
     *
     * @throws InputException as {@link #pascalSeconds}
     */
    default Viscosity at(double kelvin) {
        return new Viscosity(pascalSeconds(kelvin), kelvin, valid());
    }

    /** Throws unless a film with this glass temperature can flow at this temperature. */
    static void requireFlow(double kelvin, double glassKelvin) {
        if (!(kelvin >= glassKelvin && kelvin > 0 && kelvin < Double.POSITIVE_INFINITY)) {
            throw new InputException(
                    "rheology.below-glass-temperature",
                    "",
                    kelvin >= 0
                            ? "the film does not flow at " + TemperatureRange.celsius(kelvin)
                            : String.format(Locale.ROOT, "%.6g K is not a temperature", kelvin),
                    "use more than " + TemperatureRange.celsius(Math.max(glassKelvin, 0)));
        }
    }

    /** Returns a number that must be finite and positive, or throws naming it. */
    static double requirePositive(String name, double value, String unit) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new InputException(
                    "rheology.not-positive",
                    "",
                    String.format(Locale.ROOT, "%s is %.6g %s", name, value, unit),
                    "give a positive, finite number");
        }
        return value;
    }
}
