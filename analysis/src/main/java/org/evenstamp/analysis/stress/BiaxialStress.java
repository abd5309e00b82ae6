package org.evenstamp.analysis.stress;

/** Stress in a thin layer that shrinks otherwise than what holds it. */
public final class BiaxialStress {
    private BiaxialStress() {}

    /**
     * Returns the biaxial stress {@code E ε/(1-ν)} of a thin layer kept from shrinking by ε, Pa. Linear elasticity; validity:
     * layer thin against what holds it, no yielding.
     *
     * @param modulus Young's modulus E of the layer, Pa
     * @param poisson its Poisson's ratio ν
     * @param strain strain ε that is prevented
     */
    public static double biaxialStress(double modulus, double poisson, double strain) {
        return modulus * strain / (1 - poisson);
    }

    /**
     * Returns the curvature {@code 6 σ t_f/(M t_s²)} of a plate under a stressed thin film, 1/m.
     *
     * <p>Source: G.G. Stoney, Proc. R. Soc. A 82 (1909) 172 (from memory), with the plate's biaxial modulus M; validity: film
     * much thinner than the plate, deflection below its thickness.
     *
     * @param stress film stress σ, Pa
     * @param filmThickness t_f, m
     * @param plateBiaxialModulus M = E/(1-ν) of the plate, Pa
     * @param plateThickness t_s, m
     */
    public static double curvature(
            double stress, double filmThickness, double plateBiaxialModulus, double plateThickness) {
        return 6 * stress * filmThickness / (plateBiaxialModulus * plateThickness * plateThickness);
    }
}
