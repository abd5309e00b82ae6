package org.evenstamp.analysis.stamp;

/**
 * A plate pressed on a rigid flat with one hard, point-like particle between them.
 *
 * <p>Derived: circular plate, edge free to find its place ({@code w = w' = w'' = 0} at R). Validity: R above about 4
 * thicknesses and H below one; under that the plate is a slab.
 */
public final class ParticleStandOff {
    private ParticleStandOff() {}

    /** Returns the bending stiffness {@code D = E t³/(12(1-ν²))}, N m. */
    public static double stiffness(double modulus, double poisson, double thickness) {
        return modulus * thickness * thickness * thickness / (12 * (1 - poisson * poisson));
    }

    /**
     * Returns the radius held off the flat under pressure alone, {@code R = (64 D H/p)^(1/4)}, m.
     *
     * @param stiffness D, N m
     * @param height H of the particle above the flat, m
     * @param pressure p on the plate, Pa, positive
     */
    public static double radius(double stiffness, double height, double pressure) {
        return Math.pow(64 * stiffness * height / pressure, 0.25);
    }

    /** Returns the radius held off by adhesion W (J/m²) without pressure, {@code R = (8 D H²/W)^(1/4)}, m. */
    public static double radiusByAdhesion(double stiffness, double height, double adhesion) {
        return Math.pow(8 * stiffness * height * height / adhesion, 0.25);
    }

    /** Returns the half-width held off by a long ridge or fibre, {@code (72 D H/p)^(1/4)}, m. */
    public static double halfWidthOfRidge(double stiffness, double height, double pressure) {
        return Math.pow(72 * stiffness * height / pressure, 0.25);
    }

    /**
     * Returns the radius where two equal plates, each bent by half of the particle, are held apart against the surface
     * energy γ (J/m²) of each, {@code ((2/3) E' t³/γ)^(1/4) H^(1/2)}, m, with E' = E/(1-ν²) and H half of the particle's height.
     */
    public static double radiusOfTwoPlates(double planeModulus, double thickness, double height, double energy) {
        return Math.pow(2 * planeModulus * Math.pow(thickness, 3) / (3 * energy), 0.25) * Math.sqrt(height);
    }

    /** Returns the force on the particle, half of the pressure on the disc, {@code π p R²/2}, N. */
    public static double force(double radius, double pressure) {
        return Math.PI * pressure * radius * radius / 2;
    }

    /**
     * Returns the bending stress over the particle, Pa: {@code 6 M/t²} with {@code M = p R² (1+ν)/16 (2 ln(R/b) - 1)}, the plate
     * clamped at R under the particle's force and the pressure. The force spreads over {@code b = 0.325 t}, below which a plate
     * does not know its load from a point (H.M. Westergaard, Public Roads 7 (1926) 25, from memory).
     *
     * @param radius R, m, above the thickness
     * @param thickness t, m
     */
    public static double bendingStress(double radius, double pressure, double thickness, double poisson) {
        double spread = 0.325 * thickness;
        double moment = pressure * radius * radius * (1 + poisson) / 16 * (2 * Math.log(radius / spread) - 1);
        return 6 * Math.max(0, moment) / (thickness * thickness);
    }
}
