package org.evenstamp.analysis.stress;

/**
 * Stress of a Maxwell element, {@code dσ/dt = G γ̇ - σ/λ} with {@code λ = η/G}: feed it a history step by step, then ask.
 *
 * <p>Each step takes rate and relaxation time as constant and is exact for them: {@code σ ← ηγ̇ + (σ - ηγ̇) e^(-Δt/λ)}; so a
 * step of any length is stable, slow flow gives the Newtonian {@code ηγ̇}, and a film so cold that λ is beyond all times keeps
 * what it has. Source: the textbook element (R.B. Bird, R.C. Armstrong, O. Hassager, Dynamics of Polymeric Liquids 1, from
 * memory). Validity: shear slow enough for a constant modulus, {@code λγ̇} up to about 1; above it a melt thins and the
 * element states too much.
 */
public final class Maxwell {
    private final double modulus;
    private double stress;

    /**
     * Makes an element without stress.
     *
     * @param plateauModulus G, Pa, positive
     */
    public Maxwell(double plateauModulus) {
        if (!(plateauModulus > 0)) {
            throw new IllegalArgumentException("plateau modulus " + plateauModulus + " Pa");
        }
        modulus = plateauModulus;
    }

    /**
     * Lets time pass.
     *
     * @param seconds length of the step, s, not negative
     * @param shearRate rate at the wall during the step, 1/s
     * @param viscosity viscosity during the step, Pa s, positive; may be infinite for a solid, which then must not be sheared
     */
    public void advance(double seconds, double shearRate, double viscosity) {
        if (!(seconds >= 0) || !Double.isFinite(shearRate) || !(viscosity > 0)) {
            throw new IllegalArgumentException(
                    "step " + seconds + " s, shear rate " + shearRate + " 1/s, viscosity " + viscosity + " Pa s");
        }
        double relaxed = seconds * modulus / viscosity;
        // -expm1(-x)·η γ̇ tends to G γ̇ Δt for a stiff element; written so that an infinite viscosity gives no 0·∞
        double gain = relaxed < 1e-12 ? modulus * shearRate * seconds : -Math.expm1(-relaxed) * viscosity * shearRate;
        stress = stress * Math.exp(-relaxed) + gain;
    }

    /** Returns the shear stress, Pa. */
    public double stress() {
        return stress;
    }
}
