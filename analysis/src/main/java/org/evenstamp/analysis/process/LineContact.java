package org.evenstamp.analysis.process;

/**
 * Hertz's contact of a cylinder with a flat: an elliptic pressure over a narrow strip (Johnson, Contact Mechanics, 1985, ch.
 * 4). Small strains: past {@code b/R} of about 0.1 the strip is a rough estimate. The film and a thin stamp foil are taken
 * to pass the pressure on.
 *
 * @param lineForceNewtonsPerMetre force per length of the roller
 * @param radiusMetres radius of the roller; against another roller {@code 1/(1/R1 + 1/R2)}
 * @param modulusPascals contact modulus, see {@link #modulus}
 */
public record LineContact(double lineForceNewtonsPerMetre, double radiusMetres, double modulusPascals) {

    /** Checks the numbers. */
    public LineContact {
        ProcessKind.requirePositive("the line force", lineForceNewtonsPerMetre, "N/m");
        ProcessKind.requirePositive("the radius", radiusMetres, "m");
        ProcessKind.requirePositive("the contact modulus", modulusPascals, "Pa");
    }

    /**
     * Returns the contact modulus E* of two bodies, {@code 1/E* = (1-nu1^2)/E1 + (1-nu2^2)/E2}, in Pa. An infinite modulus
     * is a rigid body.
     */
    public static double modulus(double young1Pascals, double poisson1, double young2Pascals, double poisson2) {
        return 1 / ((1 - poisson1 * poisson1) / young1Pascals + (1 - poisson2 * poisson2) / young2Pascals);
    }

    /** Returns b, half the width of the strip, in m: {@code sqrt(4 F' R/(pi E*))}. */
    public double halfWidthMetres() {
        return Math.sqrt(4 * lineForceNewtonsPerMetre * radiusMetres / (Math.PI * modulusPascals));
    }

    /** Returns the largest pressure in Pa: {@code 2 F'/(pi b)}. */
    public double peakPascals() {
        return 2 * lineForceNewtonsPerMetre / (Math.PI * halfWidthMetres());
    }

    /** Returns the mean pressure of the strip in Pa: {@code F'/(2 b)}. */
    public double meanPascals() {
        return lineForceNewtonsPerMetre / (2 * halfWidthMetres());
    }

    /** Returns the pressure in Pa at a signed distance from the middle of the strip; 0 outside it. */
    public double pressurePascals(double distanceMetres) {
        double share = distanceMetres / halfWidthMetres();
        return Math.abs(share) < 1 ? peakPascals() * Math.sqrt(1 - share * share) : 0;
    }
}
