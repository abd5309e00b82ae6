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

    @Override
    public double pascalSeconds(double kelvin) {
        ViscosityLaw.requireFlow(kelvin, glassKelvin);
        return value;
    }
}
