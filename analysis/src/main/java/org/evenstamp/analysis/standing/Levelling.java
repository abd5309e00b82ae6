package org.evenstamp.analysis.standing;

/**
 * Rate at which surface tension levels a wavy film of any thickness.
 *
 * <p>Source: S.E. Orchard, Appl. Sci. Res. A 11 (1962) 451 (from memory). Validity: Newtonian film, amplitude small beside the
 * wavelength and the film. Imprinted lines with frozen stress fall faster at first, by elastic recovery (R.L. Jones et
 * al., Nano Lett. 6 (2006) 1723, abstract).
 */
public final class Levelling {
    private Levelling() {}

    /**
     * Returns the decay rate {@code (γ k/(2 η)) g(k h)}, {@code g(q) = (sinh q cosh q - q)/(cosh² q + q²)}, 1/s.
     *
     * @param surfaceTension γ, N/m
     * @param viscosity η, Pa s
     * @param wavelength 2π/k, m
     * @param thickness mean thickness h of the film, m
     */
    public static double rate(double surfaceTension, double viscosity, double wavelength, double thickness) {
        double k = 2 * Math.PI / wavelength;
        return surfaceTension * k / (2 * viscosity) * depth(k * thickness);
    }

    /** Returns g(q): {@code (2/3) q³} for a thin film, 1 for a deep one. */
    static double depth(double q) {
        if (q > 20) {
            return 1; // to 1e-14, where the hyperbolic functions would end in infinity over infinity
        }
        if (q < 1e-3) {
            return 2 * q * q * q / 3; // to 2e-6; the exact form loses its digits by cancellation
        }
        double cosh = Math.cosh(q);
        return (Math.sinh(q) * cosh - q) / (cosh * cosh + q * q);
    }
}
