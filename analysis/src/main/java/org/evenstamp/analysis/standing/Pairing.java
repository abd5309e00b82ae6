package org.evenstamp.analysis.standing;

/**
 * Neighbouring lines that lean together and stick: elastic against surface energy.
 *
 * <p>Two facing plates of height h touch over the part above {@code l = (3 E* t³ u²/(2 γ))^(1/4)}, where the energy that
 * peeling gains balances the bending of both; the contact stays when {@code h > l}. Derived from the energy release
 * rate of a cantilever with zero slope at the contact; the subject is that of C.Y. Hui et al., Langmuir 18 (2002) 1394, whose
 * own equation was not at hand. Validity: slender lines (h above about 3 t) of one material, long beside their height.
 */
public final class Pairing {
    private Pairing() {}

    /**
     * Returns the height l above which two lines stay together, m.
     *
     * @param planeModulus E* = E/(1-ν²) of the lines, Pa
     * @param thickness t of a line, m
     * @param gap between the lines, m; each tip moves u, half of it
     * @param surfaceEnergy γ of each surface, J/m²
     */
    public static double criticalHeight(double planeModulus, double thickness, double gap, double surfaceEnergy) {
        double move = gap / 2;
        return Math.pow(3 * planeModulus * Math.pow(thickness, 3) * move * move / (2 * surfaceEnergy), 0.25);
    }
}
