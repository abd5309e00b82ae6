package org.evenstamp.analysis.rheology;

/**
 * The exponential law {@code eta = eta_ref exp(T_b (1/T - 1/T_ref))}, for melts more than about 100 K above the glass
 * temperature and for liquid resins.
 *
 * @param referencePascalSeconds viscosity at the reference temperature
 * @param referenceKelvin reference temperature
 * @param activationKelvin activation energy over the gas constant, {@code T_b}
 * @param glassKelvin temperature below which the film is a solid; 0 for a liquid
 * @param valid where the two constants hold
 */
public record Arrhenius(
        double referencePascalSeconds,
        double referenceKelvin,
        double activationKelvin,
        double glassKelvin,
        TemperatureRange valid)
        implements ViscosityLaw {

    /** Checks the constants. */
    public Arrhenius {
        ViscosityLaw.requirePositive("the reference viscosity", referencePascalSeconds, "Pa s");
        ViscosityLaw.requirePositive("the reference temperature", referenceKelvin, "K");
        ViscosityLaw.requirePositive("the activation temperature", activationKelvin, "K");
        ViscosityLaw.requirePositive(
                "the viscosity at the lowest temperature",
                value(
                        Math.max(glassKelvin, valid.leastKelvin()),
                        referencePascalSeconds,
                        referenceKelvin,
                        activationKelvin),
                "Pa s");
    }

    private static double value(double kelvin, double reference, double referenceKelvin, double activationKelvin) {
        return reference * Math.exp(activationKelvin * (1 / kelvin - 1 / referenceKelvin));
    }

    @Override
    public double pascalSeconds(double kelvin) {
        ViscosityLaw.requireFlow(kelvin, glassKelvin);
        return ViscosityLaw.requirePositive(
                "the viscosity at " + kelvin + " K",
                value(kelvin, referencePascalSeconds, referenceKelvin, activationKelvin),
                "Pa s");
    }
}
