package org.evenstamp.analysis.dummy;

import org.evenstamp.analysis.film.stamp.Stamp;

/**
 * The length over which film and stamp even out a full film while the pressure is held.
 *
 * <p>A wave of wavenumber k in the residual layer h presses film from where the stamp bends down to where it bends up and decays
 * as {@code exp(-M k² t/G(k))}, with the film's mobility {@code M = h³/(12 η)} and the stamp's compliance G. What is left of
 * the cavity volume in the residual layer after the time t is therefore the volume averaged with that symbol. A soft layer much
 * thinner than the wave has a constant G, and the average is a Gaussian of standard deviation {@code sqrt(2 M t/G)}; for other
 * bodies the length returned is that of the Gaussian that agrees where the wave has fallen to {@code exp(-1/2)}. Derived from
 * the equations of the film solver, linear in small waves; the time before the cavities are full is not counted, so the length
 * is a lower bound for slow filling.
 */
public final class FlowWindow {
    private static final double SHORTEST = 1e-9; // m
    private static final int HALVINGS = 200;

    private FlowWindow() {}

    /**
     * Returns the standard deviation of the Gaussian average in m.
     *
     * @param stamp the stamp's body
     * @param gapMetres residual layer, positive
     * @param viscosityPascalSeconds viscosity of the film, positive
     * @param seconds time under pressure, positive
     * @param longestMetres largest length of interest, such as the stamp's side: a rigid stamp has no length of its own
     */
    public static double lengthMetres(
            Stamp stamp, double gapMetres, double viscosityPascalSeconds, double seconds, double longestMetres) {
        if (!(gapMetres > 0 && viscosityPascalSeconds > 0 && seconds > 0 && longestMetres > SHORTEST)) {
            throw new IllegalArgumentException("gap, viscosity, time and longest length are positive, were " + gapMetres
                    + " m, " + viscosityPascalSeconds + " Pa s, " + seconds + " s, " + longestMetres + " m");
        }
        double spreading = gapMetres * gapMetres * gapMetres * seconds / (12 * viscosityPascalSeconds);
        double low = Math.log(SHORTEST);
        double high = Math.log(longestMetres);
        if (!evens(stamp, spreading, SHORTEST)) {
            return SHORTEST;
        }
        if (evens(stamp, spreading, longestMetres)) {
            return longestMetres;
        }
        for (int i = 0; i < HALVINGS && high - low > 1e-12; i++) {
            double middle = (low + high) / 2;
            if (evens(stamp, spreading, Math.exp(middle))) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Math.exp((low + high) / 2);
    }

    /** Whether a wave of wavenumber 1/length decays to exp(-1/2) or below. */
    private static boolean evens(Stamp stamp, double spreading, double length) {
        double k = 1 / length;
        return spreading * k * k >= 0.5 * stamp.compliance(k);
    }
}
