package org.evenstamp.analysis.rheology;

import org.evenstamp.shared.problem.InputException;

/**
 * The law of Williams, Landel and Ferry (J. Am. Chem. Soc. 77 (1955) 3701):
 * {@code log10(eta/eta_ref) = -C1 (T - T_ref)/(C2 + T - T_ref)}. The base is 10; a C1 stated for the natural logarithm is
 * 2.302585 times larger.
 *
 * @param referencePascalSeconds viscosity at the reference temperature
 * @param referenceKelvin reference temperature
 * @param c1 first constant, base 10, positive
 * @param c2Kelvin second constant, positive
 * @param glassKelvin glass temperature, above {@code referenceKelvin - c2Kelvin} where the law has its pole
 * @param valid where the constants hold; the usual claim is from the glass temperature to 50 K (IUPAC gold book,
 *     doi 10.1351/goldbook.12821) or 100 K (most texts) above it
 */
public record Wlf(
        double referencePascalSeconds,
        double referenceKelvin,
        double c1,
        double c2Kelvin,
        double glassKelvin,
        TemperatureRange valid)
        implements ViscosityLaw {

    /** Width of the usual validity range above the glass temperature, K. */
    private static final double USUAL_SPAN_KELVIN = 100;

    /** Checks the constants and that the viscosity at the glass temperature is a finite number. */
    public Wlf {
        ViscosityLaw.requirePositive("the reference viscosity", referencePascalSeconds, "Pa s");
        ViscosityLaw.requirePositive("the reference temperature", referenceKelvin, "K");
        ViscosityLaw.requirePositive("C1", c1, "");
        ViscosityLaw.requirePositive("C2", c2Kelvin, "K");
        ViscosityLaw.requirePositive("the glass temperature", glassKelvin, "K");
        if (!(glassKelvin > referenceKelvin - c2Kelvin)) {
            throw new InputException(
                    "rheology.wlf-pole",
                    "",
                    "the glass temperature " + TemperatureRange.celsius(glassKelvin)
                            + " lies at or below the pole of the WLF law, "
                            + TemperatureRange.celsius(referenceKelvin - c2Kelvin),
                    "check C2 and the reference temperature it belongs to");
        }
        ViscosityLaw.requirePositive(
                "the WLF viscosity at the glass temperature",
                referencePascalSeconds * Math.pow(10, logShift(glassKelvin, referenceKelvin, c1, c2Kelvin)),
                "Pa s");
    }

    /** Returns a law with the usual validity range, from the glass temperature to 100 K above it. */
    public static Wlf of(
            double referencePascalSeconds, double referenceKelvin, double c1, double c2Kelvin, double glassKelvin) {
        ViscosityLaw.requirePositive("the glass temperature", glassKelvin, "K");
        return new Wlf(
                referencePascalSeconds,
                referenceKelvin,
                c1,
                c2Kelvin,
                glassKelvin,
                new TemperatureRange(glassKelvin, glassKelvin + USUAL_SPAN_KELVIN));
    }

    /** Returns {@code log10(eta(T)/eta_ref)}. */
    public double logShift(double kelvin) {
        return logShift(kelvin, referenceKelvin, c1, c2Kelvin);
    }

    private static double logShift(double kelvin, double referenceKelvin, double c1, double c2Kelvin) {
        double above = kelvin - referenceKelvin;
        return -c1 * above / (c2Kelvin + above);
    }

    @Override
    public double pascalSeconds(double kelvin) {
        ViscosityLaw.requireFlow(kelvin, glassKelvin);
        return referencePascalSeconds * Math.pow(10, logShift(kelvin));
    }

    /** Returns the same temperature dependence through another measured point, at or above the glass temperature. */
    public Wlf through(double pascalSeconds, double kelvin) {
        ViscosityLaw.requireFlow(kelvin, glassKelvin);
        return new Wlf(
                pascalSeconds * Math.pow(10, -logShift(kelvin)), referenceKelvin, c1, c2Kelvin, glassKelvin, valid);
    }
}
