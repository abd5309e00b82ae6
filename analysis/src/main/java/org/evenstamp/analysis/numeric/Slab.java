package org.evenstamp.analysis.numeric;

import java.util.function.DoubleUnaryOperator;

/**
 * Diffusion, of heat or of matter, out of a slab that is full at first and whose faces are empty from then on. Times are in half thicknesses
 * squared over the diffusivity: {@code tau = D t/L²}. A slab with one tight face is half of one with twice the thickness.
 *
 * <p>Source: J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), chapter 4.3, the same as H.S. Carslaw and J.C. Jaeger, Conduction of Heat in
 * Solids (both from memory): {@code (4/pi) sum of (-1)^n/(2n+1) exp(-(2n+1)² pi² tau/4)} in the middle, {@code (8/pi²) sum of 1/(2n+1)² exp(...)} in the
 * mean. Validity: a diffusivity that does not change with what is left.
 */
public final class Slab {
    /** Before it nothing has left the middle, and the mean falls as in a half-space, to all digits of a double. */
    private static final double EARLY = 0.005;

    private static final int TERMS = 32; // at EARLY the next one is below 1e-21
    private static final int HALVINGS = 200;

    private Slab() {}

    /** Returns the share that is left in the middle, 1 to 0. */
    public static double middle(double tau) {
        if (tau < EARLY) {
            return 1;
        }
        double sum = 0;
        for (int n = TERMS - 1; n >= 0; n--) {
            int odd = 2 * n + 1;
            sum += (n % 2 == 0 ? 1.0 : -1.0) / odd * Math.exp(-odd * odd * Math.PI * Math.PI * tau / 4);
        }
        return 4 / Math.PI * sum;
    }

    /** Returns the share that is left in the mean, 1 to 0. */
    public static double mean(double tau) {
        if (tau < EARLY) {
            return 1 - 2 * Math.sqrt(tau / Math.PI);
        }
        double sum = 0;
        for (int n = TERMS - 1; n >= 0; n--) {
            int odd = 2 * n + 1;
            sum += Math.exp(-odd * odd * Math.PI * Math.PI * tau / 4) / (odd * odd);
        }
        return 8 / (Math.PI * Math.PI) * sum;
    }

    /** Returns when a share in (0, 1) is left in the middle. */
    public static double whenMiddle(double share) {
        return when(Slab::middle, share);
    }

    /** Returns when a share in (0, 1) is left in the mean. */
    public static double whenMean(double share) {
        return when(Slab::mean, share);
    }

    private static double when(DoubleUnaryOperator law, double share) {
        if (!(share > 0 && share < 1)) {
            throw new IllegalArgumentException("a share of " + share);
        }
        double low = 0;
        double high = 1 - Math.log(share); // by then exp(-pi² tau/4) is far below it
        for (int i = 0; i < HALVINGS && Math.nextUp(low) < high; i++) {
            double half = 0.5 * (low + high);
            if (law.applyAsDouble(half) > share) {
                low = half;
            } else {
                high = half;
            }
        }
        return high;
    }
}
