package org.evenstamp.analysis.rheology;

/**
 * How the zero-shear viscosity of a melt follows its molar mass at one temperature: exponent 1 below the critical mass,
 * 3.4 above it (Berry and Fox, Adv. Polym. Sci. 5 (1968) 261, from memory). Not for films thinner than a chain coil, where
 * the order can turn round (Science 322 (2008) 720, doi 10.1126/science.1157945, abstract).
 */
public final class MolarMass {
    /** Exponent above the critical molar mass. */
    public static final double ENTANGLED_EXPONENT = 3.4;

    /**
     * Radius of gyration over the square root of the molar mass, m (mol/kg)^(1/2): polystyrene without a solvent's swelling, 82 nm at 6.9 Mg/mol and 126 nm
     * at 16.2 Mg/mol (PMC5018825, table 1). Other chains differ by some tens of percent.
     */
    private static final double COIL = 82e-9 / Math.sqrt(6900);

    private MolarMass() {}

    /** Returns the radius of gyration of a chain, m. */
    public static double coilMetres(double kilogramsPerMole) {
        ViscosityLaw.requirePositive("the molar mass", kilogramsPerMole, "kg/mol");
        return COIL * Math.sqrt(kilogramsPerMole);
    }

    /**
     * Returns the viscosity at molar mass {@code to} over that at {@code from}. All masses are weight averages in one unit.
     *
     * @param from positive
     * @param to positive
     * @param critical where entanglement begins, positive; about twice the mass between entanglements
     */
    public static double viscosityRatio(double from, double to, double critical) {
        ViscosityLaw.requirePositive("the molar mass", from, "kg/mol");
        ViscosityLaw.requirePositive("the molar mass", to, "kg/mol");
        ViscosityLaw.requirePositive("the critical molar mass", critical, "kg/mol");
        return relative(to / critical) / relative(from / critical);
    }

    private static double relative(double massOverCritical) {
        return massOverCritical > 1 ? Math.pow(massOverCritical, ENTANGLED_EXPONENT) : massOverCritical;
    }
}
