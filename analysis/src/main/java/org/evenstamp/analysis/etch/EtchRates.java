package org.evenstamp.analysis.etch;

/**
 * What an etch does in a time.
 *
 * @param vertical vertical rate on open film, m/s, positive
 * @param lateral lateral rate at each side wall, m/s, not negative
 * @param loading how much the rate falls with the share f of the area on which the etch finds film, {@code r = r0/(1 + L f)}; the
 *     form is that of C.J. Mogab, J. Electrochem. Soc. 124 (1977) 1262 (from memory), with film area for wafer area. Until
 *     the residual layer is clear that is all of it, {@code f = 1}; then the features
 */
public record EtchRates(double vertical, double lateral, double loading) {
    /** Checks the ranges. */
    public EtchRates {
        if (!(vertical > 0) || !(lateral >= 0) || !(loading >= 0)) {
            throw new IllegalArgumentException(
                    "rates " + vertical + " and " + lateral + " m/s, loading " + loading + " are not possible");
        }
    }

    /**
     * Rates at one place and time.
     *
     * @param vertical m/s, positive
     * @param lateral at each side wall, m/s, not negative
     */
    public record Pair(double vertical, double lateral) {}

    /** Returns the rates while film covers the whole area; loading slows both alike. */
    public Pair beforeClearing() {
        return afterClearing(1);
    }

    /** Returns the rates where film covers a share of the area. */
    public Pair afterClearing(double fraction) {
        return new Pair(vertical / (1 + loading * fraction), lateral / (1 + loading * fraction));
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
