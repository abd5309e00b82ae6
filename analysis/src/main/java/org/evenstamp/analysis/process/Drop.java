package org.evenstamp.analysis.process;

/**
 * A dispensed drop of a Newtonian liquid that spreads as a disc between stamp and substrate, its volume kept, no pressure on
 * its rim.
 *
 * @param cubicMetres volume
 * @param pascalSeconds viscosity
 */
public record Drop(double cubicMetres, double pascalSeconds) {

    /** Checks the numbers. */
    public Drop {
        ProcessKind.requirePositive("the drop's volume", cubicMetres, "m^3");
        ProcessKind.requirePositive("the viscosity", pascalSeconds, "Pa s");
    }

    /** Returns the radius of the wetted disc in m at a gap. */
    public double radiusMetres(double gapMetres) {
        return Math.sqrt(cubicMetres / (Math.PI * gapMetres));
    }

    /** Returns the time in s from one gap to a smaller one under a constant force: {@code 3 eta V^2/(8 pi F) (1/h^4 - 1/h0^4)}. */
    public double secondsUnderForce(double newtons, double startMetres, double endMetres) {
        ProcessKind.requirePositive("the force", newtons, "N");
        return 3
                * pascalSeconds
                * cubicMetres
                * cubicMetres
                / (8 * Math.PI * newtons)
                * (Math.pow(endMetres, -4) - Math.pow(startMetres, -4));
    }

    /**
     * Returns the time in s from one gap to a smaller one under a constant force and the pull of its own surface, both faces wetted alike: the
     * menisci add {@code 2 gamma cos(theta) V/h²} to the force, so that with {@code x = 1/h²} and {@code c = 2 gamma cos(theta) V} it is
     * {@code 3 eta V²/(4 pi c) [x - F/c ln(F + c x)]} between both ends (derived; both limits are those of the two alone).
     *
     * @param capillarity must wet: a contact angle below a right angle
     */
    public double secondsUnderForceAndCapillarity(
            double newtons, Capillarity capillarity, double startMetres, double endMetres) {
        ProcessKind.requirePositive("the force", newtons, "N");
        double pull = 2
                * cubicMetres
                * ProcessKind.requirePositive(
                        "the wetting force gamma cos(theta)",
                        capillarity.surfaceTensionNewtonsPerMetre() * Math.cos(capillarity.contactAngleRadians()),
                        "N/m");
        double first = 1 / (startMetres * startMetres);
        double last = 1 / (endMetres * endMetres);
        double grown = pull * (last - first) / (newtons + pull * first);
        return 3
                * pascalSeconds
                * cubicMetres
                * cubicMetres
                / (4 * Math.PI * pull)
                * (last - first - newtons / pull * Math.log1p(grown));
    }

    /**
     * Returns the time in s from one gap to a smaller one when only its own surface draws the drop out, both faces wetted
     * alike: {@code 3 eta V/(8 pi gamma cos(theta)) (1/h^2 - 1/h0^2)}.
     *
     * @param capillarity must wet: a contact angle below a right angle
     */
    public double secondsByCapillarity(Capillarity capillarity, double startMetres, double endMetres) {
        double pull = ProcessKind.requirePositive(
                "the wetting force gamma cos(theta)",
                capillarity.surfaceTensionNewtonsPerMetre() * Math.cos(capillarity.contactAngleRadians()),
                "N/m");
        return 3
                * pascalSeconds
                * cubicMetres
                / (8 * Math.PI * pull)
                * (Math.pow(endMetres, -2) - Math.pow(startMetres, -2));
    }
}
