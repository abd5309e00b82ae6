package org.evenstamp.analysis.etch;

/**
 * What an etch does in a time.
 *
 * @param vertical vertical rate on open film, m/s, positive
 * @param lateral lateral rate at each side wall, m/s, not negative
 * @param loading how much the rate falls with the share f of the area that features cover, {@code r = r0/(1 + L f)}; the
 *     form is that of C.J. Mogab, J. Electrochem. Soc. 124 (1977) 1262 (from memory), with film area for wafer area
 */
public record EtchRates(double vertical, double lateral, double loading) {
    /** Checks the ranges. */
    public EtchRates {
        if (!(vertical > 0) || !(lateral >= 0) || !(loading >= 0)) {
            throw new IllegalArgumentException(
                    "rates " + vertical + " and " + lateral + " m/s, loading " + loading + " are not possible");
        }
    }

    /** Returns the vertical rate where features cover a share of the area, m/s. */
    public double verticalAt(double fraction) {
        return vertical / (1 + loading * fraction);
    }

    /** Returns the lateral rate where features cover a share of the area, m/s; loading slows both alike. */
    public double lateralAt(double fraction) {
        return lateral / (1 + loading * fraction);
    }

    /** Returns the anisotropy {@code 1 - lateral/vertical}: 1 straight down, 0 the same in all directions. */
    public double anisotropy() {
        return 1 - lateral / vertical;
    }

    /**
     * Returns the cotangent of the angle between walls and substrate; a feature whose upright parts recede by Δz loses the
     * width {@code 2 Δz cot θ} to the lean of its walls. Exactly 0 for upright walls.
     *
     * @param wallAngleRadians θ, in (0, π/2]
     */
    public static double cotangent(double wallAngleRadians) {
        return wallAngleRadians == Math.PI / 2 ? 0 : 1 / Math.tan(wallAngleRadians);
    }
}
