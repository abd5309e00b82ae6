package org.evenstamp.analysis.process;

/** Thickness of a spun film. */
public final class SpinCoating {
    private SpinCoating() {}

    /**
     * Returns the thickness in m at another speed and viscosity of the solution from one measured film: speed to the power
     * -1/2 (drying grows as the square root of the speed), viscosity to the power 1/3 (Meyerhofer, J. Appl. Phys. 49
     * (1978) 3993).
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
