package org.evenstamp.analysis.release;

/** The line along which a stamp parts from the film. Plates: Kirchhoff, slow fronts. */
public final class PeelFront {
    private PeelFront() {}

    /**
     * Returns the energy release rate {@code 9 D y²/(2 L⁴)} of a plate lifted by y at the distance L from the front, J/m². Derived
     * (cantilever); W.P. Maszara et al., J. Appl. Phys. 64 (1988) 4943 (from memory) has it for two plates.
     *
     * @param stiffness D of the plate, N m
     */
    public static double energyReleaseRate(double stiffness, double lift, double distance) {
        double square = distance * distance;
        return 4.5 * stiffness * lift * lift / (square * square);
    }

    /** Returns the distance L at which that front rests for a work W, {@code (9 D y²/(2 W))^(1/4)}, m. */
    public static double distance(double stiffness, double lift, double work) {
        return Math.pow(4.5 * stiffness * lift * lift / work, 0.25);
    }

    /**
     * Returns the force to peel a flexible sheet, {@code W/(1 - cos θ)} per width, N/m. Source: Rivlin; K. Kendall, J. Phys. D 8
     * (1975) 1449 (from memory), without the stretch of the sheet.
     *
     * @param work W to part, J/m²
     * @param angleRadians θ between sheet and film, in (0, π]
     */
    public static double force(double work, double angleRadians) {
        return work / (1 - Math.cos(angleRadians));
    }

    /** Returns the curvature of a plate just behind a front, {@code sqrt(2 W/D)}, 1/m. Derived: bending energy pays W. */
    public static double curvature(double stiffness, double work) {
        return Math.sqrt(2 * work / stiffness);
    }

    /**
     * Returns how far the stamp's cavities shift sideways while a feature of height d leaves them, {@code d sqrt(2 d κ)}, m: behind
     * the front the stamp has risen by d where its slope is {@code sqrt(2 d κ)}.
     */
    public static double tiltOffset(double height, double curvature) {
        return height * Math.sqrt(2 * height * curvature);
    }
}
