package org.evenstamp.analysis.release;

/**
 * How shrinking film grips the stamp's protrusions, and how the stamp, drifting against the substrate, leans on the film's
 * features. Linear elasticity; the stamp is taken as rigid.
 */
public final class Grip {
    private Grip() {}

    /**
     * Returns the pressure of film on the protrusion that it surrounds, {@code E ε φ/((1-ν)(1-φ) + (1+ν))}, Pa.
     *
     * <p>Source: shrink fit of a ring on a rigid core (Lamé), area fractions for the squared radii; the whole plane of film
     * ({@code φ = 1}) gives {@code E ε/(1+ν)}, no film nothing. Validity: the pressure on a round or square protrusion; along a
     * line nothing closes the ring, so for lines it is an upper bound.
     *
     * @param modulus E of the film, Pa
     * @param poisson ν of the film
     * @param shrinkage ε by which the film would shrink against the stamp if it were free; its size counts: film that shrinks less
     *     than the stamp is gripped by it
     * @param fraction share φ of the area that is film beside protrusions (cavity), 0..1
     */
    public static double ringPressure(double modulus, double poisson, double shrinkage, double fraction) {
        return modulus * Math.abs(shrinkage) * fraction / ((1 - poisson) * (1 - fraction) + 1 + poisson);
    }

    /**
     * Returns the gap {@code ε w} that shrinking opens between a feature and its cavity, m: as far as the feature can lean.
     *
     * @param width width that shrinks: see {@link #leaningWidth}
     */
    public static double gap(double shrinkage, double width) {
        return Math.abs(shrinkage) * width;
    }

    /**
     * Returns the width of a feature that leans like a cantilever, m: its own, but no more than its height, since a feature wider
     * than it is tall yields only near its walls.
     */
    public static double leaningWidth(double width, double height) {
        return Math.min(width, height);
    }

    /**
     * Returns the stress at the root of a cantilever whose tip is moved by u, {@code 3 E w u/(2 d²)}, Pa. Source: beam theory;
     * validity: {@code d} above about 3 w; a stubbier feature is stiffer at its foot and softer by shear.
     *
     * <p>A feature wider than it is tall is pushed with the force of one as wide as tall, {@code E u/4} per length, since no more than
     * that yields; its whole foot holds it, {@code σ = 6 F d/w²}. So low features bear the less the lower they are (derived).
     *
     * @param width of the feature, m
     */
    public static double rootBending(double modulus, double width, double height, double offset) {
        double leaning = leaningWidth(width, height);
        double holding = leaning / width;
        return 1.5 * modulus * leaning * offset / (height * height) * holding * holding;
    }

    /** Returns the tip force of that cantilever over its wall, {@code E w³ u/(4 d⁴)}, Pa: mean pressure on the wall it leans on. */
    public static double leaningPressure(double modulus, double width, double height, double offset) {
        double slender = width / height;
        return modulus * slender * slender * slender * offset / (4 * height);
    }
}
