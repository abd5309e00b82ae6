package org.evenstamp.analysis.standing;

/**
 * Mean compressive stress at which an upright feature, fixed at its foot and free at its top, buckles.
 *
 * <p>Source: Euler's column, {@code P = π² E I/(4 h²)}. Validity: slender, h above about 3 widths; a stubbier feature yields
 * first.
 */
public final class Buckling {
    private Buckling() {}

    /** Returns the stress for a long line, {@code (π²/48) E* (w/h)²}, Pa, with E* = E/(1-ν²). */
    public static double line(double planeModulus, double width, double height) {
        return Math.PI * Math.PI / 48 * planeModulus * square(width / height);
    }

    /** Returns the stress for a square pillar, {@code (π²/48) E (w/h)²}, Pa. */
    public static double squarePillar(double modulus, double width, double height) {
        return Math.PI * Math.PI / 48 * modulus * square(width / height);
    }

    /** Returns the stress for a round pillar, {@code (π²/64) E (d/h)²}, Pa: the lowest of the three. */
    public static double roundPillar(double modulus, double diameter, double height) {
        return Math.PI * Math.PI / 64 * modulus * square(diameter / height);
    }

    private static double square(double x) {
        return x * x;
    }
}
