package org.evenstamp.analysis.release;

/** Work to part film and stamp, J/m², and the stresses it asks for. */
public final class Adhesion {
    private Adhesion() {}

    /**
     * Returns the work of adhesion {@code γ (1 + cos θ)} of a liquid on a solid, J/m². Source: Young-Dupré. Validity: θ an
     * equilibrium angle; vapour adsorbs nowhere.
     *
     * @param surfaceTension γ of the liquid, N/m
     * @param contactAngleRadians θ of the liquid on the solid
     */
    public static double youngDupre(double surfaceTension, double contactAngleRadians) {
        return surfaceTension * (1 + Math.cos(contactAngleRadians));
    }

    /**
     * Returns the work of adhesion {@code 2 sqrt(γ1 γ2)}, J/m²: geometric mean of two surface energies. Validity: surfaces that
     * attract by dispersion alone; polar or reacting ones hold faster.
     */
    public static double geometricMean(double energy1, double energy2) {
        return 2 * Math.sqrt(energy1 * energy2);
    }

    /**
     * Returns the largest shear stress {@code 2 W/d} on a wall of height d from adhesion alone, Pa: the work W is spent over a
     * draw of d while the wall in contact shrinks to nothing (derived: energy balance of the draw).
     */
    public static double drawStress(double work, double height) {
        return 2 * work / height;
    }

    /**
     * Returns the tension {@code sqrt(2 E W/d)} at which a top face parts all at once from a flat stamp, Pa: the energy stored in
     * the bar below pays for the face. Derived as for a stiff punch (K. Kendall, J. Phys. D 4 (1971) 1186, from memory);
     * an upper bound, for any front that enters from an edge parts the face for less.
     *
     * @param work W, J/m²
     * @param modulus E of the feature, Pa
     * @param height d of the feature, m
     */
    public static double faceStress(double work, double modulus, double height) {
        return Math.sqrt(2 * modulus * work / height);
    }
}
