package org.evenstamp.analysis.stress;

/**
 * Shear rate of a Newtonian film at the side wall of a cavity that it fills.
 *
 * <p>Source: plane and round Poiseuille flow with Navier's slip condition; validity: film taller than the cavity is wide is
 * not needed, but the flow in the cavity must be along its walls, so the last width before the ceiling is not described.
 */
public final class WallShear {
    private WallShear() {}

    /**
     * Returns the mean speed of the film against the walls of the cavities, {@code ċ/φ}, m/s: film displaced by the sinking
     * protrusions, film from other tiles, and the fall of the walls themselves, by conservation of volume over the tile.
     *
     * @param fillingRate rate ċ at which the cavities take in film, volume per area of the tile and time, m/s, not negative;
     *     where no film comes from other tiles, the speed of the stamp towards the substrate
     * @param fraction share of the area that is cavity, in (0, 1]
     */
    public static double speed(double fillingRate, double fraction) {
        if (!(fillingRate >= 0) || !(fraction > 0 && fraction <= 1)) {
            throw new IllegalArgumentException("filling rate " + fillingRate + " m/s, cavity fraction " + fraction);
        }
        return fillingRate / fraction;
    }

    /**
     * Returns the shear rate at the walls of a slot, {@code (6 U/w)/(1 + 6 b/w)}, 1/s.
     *
     * @param speed mean speed U of the film against the walls, m/s, not negative
     * @param width width w of the slot, m, positive
     * @param slipLength slip length b, m, not negative
     */
    public static double slot(double speed, double width, double slipLength) {
        return rate(6, speed, width, slipLength);
    }

    /** Returns the shear rate at the wall of a round hole, {@code (8 U/D)/(1 + 8 b/D)}, 1/s; see {@link #slot}. */
    public static double hole(double speed, double diameter, double slipLength) {
        return rate(8, speed, diameter, slipLength);
    }

    /**
     * Returns the shear rate for a cavity of shape factor {@code k = perimeter x width / area}, 1/s: exact for the slot (k = 2)
     * and the round hole (k = 4), in between by the straight line {@code 4 + k}, which lies above the mean over the wall of a
     * rectangular cavity (by 13 % for the square and 20 % for 2:1).
     */
    public static double cavity(double shape, double speed, double width, double slipLength) {
        return rate(4 + shape, speed, width, slipLength);
    }

    private static double rate(double coefficient, double speed, double width, double slipLength) {
        if (!(speed >= 0) || !(width > 0) || !(slipLength >= 0)) {
            throw new IllegalArgumentException(
                    "speed " + speed + " m/s, width " + width + " m, slip length " + slipLength + " m");
        }
        return coefficient * speed / (width + coefficient * slipLength);
    }
}
