package org.evenstamp.analysis.standing;

/**
 * How far the roof of a recess sinks between the protrusions that carry a soft stamp.
 *
 * <p>Source: periodic array of cracks in plane strain, {@code (4 σ (w+a)/(π E*)) arccosh(sec(π w/(2(w+a))))} (derived; C.Y.
 * Hui et al., Langmuir 18 (2002) 1394 treat the same). Validity: recess shallow beside its width, stamp thicker than the
 * period, recess empty: film in it carries the roof.
 */
public final class RoofSag {
    private RoofSag() {}

    /**
     * Returns the sag in the middle of the recess, m.
     *
     * @param pressure mean pressure σ on the stamp, Pa
     * @param recessWidth 2 w, m
     * @param landWidth 2 a of the protrusions between, m, positive
     * @param planeModulus E* = E/(1-ν²) of the stamp, Pa
     */
    public static double sag(double pressure, double recessWidth, double landWidth, double planeModulus) {
        double halfPeriod = (recessWidth + landWidth) / 2;
        double angle = Math.PI * recessWidth / (4 * halfPeriod);
        // arccosh(sec θ) = ln((1 + sin θ)/cos θ)
        double opening = Math.log((1 + Math.sin(angle)) / Math.cos(angle));
        return 4 * pressure * halfPeriod / (Math.PI * planeModulus) * opening;
    }

    /**
     * Returns the mean pressure on the stamp at which the roof has come down by a depth and rests on the film, Pa; what is
     * pressed beyond it, the film in the recess carries too. Infinite where there is no recess.
     *
     * <p>The period counts up to twice the stamp's thickness: a recess wider than that sags less than the array of cracks says,
     * since the body behind it holds it (derived estimate, on the side of a higher pressure).
     *
     * @param depth of the recess, m
     * @param thickness of the stamp's elastic body, m
     */
    public static double touchingPressure(
            double depth, double recessWidth, double landWidth, double planeModulus, double thickness) {
        double scale = Math.min(1, 2 * thickness / (recessWidth + landWidth));
        return depth / sag(1, scale * recessWidth, scale * landWidth, planeModulus);
    }
}
