package org.evenstamp.analysis.process;

/** Thickness of a spun film. Angular speeds in rad/s. */
public final class SpinCoating {
    private SpinCoating() {}

    /**
     * Returns the thickness in m of a liquid that is thrown off without drying: {@code h0/sqrt(1 + 4 rho w^2 h0^2 t/(3 eta))}
     * (Emslie, Bonner and Peck, J. Appl. Phys. 29 (1958) 858).
     */
    public static double thinnedMetres(
            double startMetres,
            double kilogramsPerCubicMetre,
            double radiansPerSecond,
            double pascalSeconds,
            double seconds) {
        ProcessKind.requirePositive("the viscosity", pascalSeconds, "Pa s");
        double product = radiansPerSecond * startMetres;
        return startMetres
                / Math.sqrt(1 + 4 * kilogramsPerCubicMetre * product * product * seconds / (3 * pascalSeconds));
    }

    /**
     * Returns the thickness in m at which drying overtakes throwing off: {@code (3 eta e/(2 rho w^2))^(1/3)}; the dry film is
     * about this times the volume fraction of solids (Meyerhofer, J. Appl. Phys. 49 (1978) 3993; published prefactors
     * differ, so {@link #scaledMetres} from a measured film is to be preferred).
     *
     * @param evaporationMetresPerSecond rate at which drying alone lowers the surface
     */
    public static double crossoverMetres(
            double pascalSeconds,
            double evaporationMetresPerSecond,
            double kilogramsPerCubicMetre,
            double radiansPerSecond) {
        ProcessKind.requirePositive("the density", kilogramsPerCubicMetre, "kg/m^3");
        ProcessKind.requirePositive("the spin speed", radiansPerSecond, "rad/s");
        return Math.cbrt(3
                * pascalSeconds
                * evaporationMetresPerSecond
                / (2 * kilogramsPerCubicMetre * radiansPerSecond * radiansPerSecond));
    }

    /**
     * Returns the thickness in m at another speed and viscosity of the solution from one measured film: speed to the power
     * -1/2 (drying grows as the square root of the speed), viscosity to the power 1/3 (Meyerhofer).
     *
     * @param measuredMetres thickness of the measured film
     * @param speedRatio new speed over the speed of the measured film
     * @param viscosityRatio new viscosity of the solution over the measured one's; 1 for the same solution
     */
    public static double scaledMetres(double measuredMetres, double speedRatio, double viscosityRatio) {
        ProcessKind.requirePositive("the measured thickness", measuredMetres, "m");
        ProcessKind.requirePositive("the ratio of speeds", speedRatio, "");
        ProcessKind.requirePositive("the ratio of viscosities", viscosityRatio, "");
        return measuredMetres / Math.sqrt(speedRatio) * Math.cbrt(viscosityRatio);
    }
}
