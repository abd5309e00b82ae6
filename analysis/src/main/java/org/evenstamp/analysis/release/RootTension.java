package org.evenstamp.analysis.release;

/**
 * Tension at the foot of a feature while shear holds its side walls: force on the walls over the area of the foot. Derived;
 * stress concentration at the corner is extra.
 */
public final class RootTension {
    private RootTension() {}

    /** Returns the tension for a long line of width w and height d, {@code 2 τ d/w}, Pa. */
    public static double line(double shear, double height, double width) {
        return ofShape(2, shear, height, width);
    }

    /** Returns the tension for a square or round pillar of width w and height d, {@code 4 τ d/w}, Pa. */
    public static double pillar(double shear, double height, double width) {
        return ofShape(4, shear, height, width);
    }

    /**
     * Returns the tension {@code k τ d/w} for a feature of shape factor {@code k = perimeter x width / area}, Pa: line, pillar and
     * what lies between, such as short lines or the net of film around holes.
     */
    public static double ofShape(double shape, double shear, double height, double width) {
        return shape * shear * height / width;
    }

    /** Returns the height over width at which a line tears, {@code σ/(2 τ)}. */
    public static double lineAspectLimit(double strength, double shear) {
        return strength / (2 * shear);
    }
}
