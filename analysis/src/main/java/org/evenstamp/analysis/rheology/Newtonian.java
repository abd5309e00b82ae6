package org.evenstamp.analysis.rheology;

/**
 * A viscosity known at one temperature only, as a datasheet of a liquid resin states it.
 *
 * @param value the viscosity, Pa s
 * @param glassKelvin temperature below which the film is a solid; 0 for a liquid
 * @param valid temperatures at which it may be used
 */
public record Newtonian(double value, double glassKelvin, TemperatureRange valid) implements ViscosityLaw {
    /** Checks the number. */
    public Newtonian {
        ViscosityLaw.requirePositive("the viscosity", value, "Pa s");
    }

    /** Returns a viscosity that is stated for the film as it fills, whatever its temperature. */
    public static Newtonian always(double pascalSeconds) {
        return new Newtonian(pascalSeconds, 0, new TemperatureRange(0, Double.MAX_VALUE));
    }

    @Override
    public double pascalSeconds(double kelvin) {
        ViscosityLaw.requireFlow(kelvin, glassKelvin);
        return value;
    }
}
