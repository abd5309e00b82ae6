package org.evenstamp.analysis.process;

/**
 * How far a face lags behind a plate that warms or cools steadily, through a layer that no heat leaves on the other side.
 *
 * <p>With {@code tau = a t/L²} after the ramp began the lag is {@code r L²/(2 a) [1 - (32/pi³) sum of (-1)^n/(2n+1)³ exp(-(2n+1)² pi² tau/4)]} (H.S. Carslaw and J.C. Jaeger,
 * Conduction of Heat in Solids, 2nd ed. (1959), section 3.5, from memory). Of a film between two layers whose outer faces are plates it is
 * the most that the slower one makes: heat that passes from one layer to the other only lessens it. Validity: diffusivity that does not change; contact of plate and layer without resistance.
 *
 * @param metres thickness of the layer L
 * @param diffusivity a, m²/s
 */
public record ThermalLag(double metres, double diffusivity) {
    private static final int TERMS = 64;

    /** Returns the time by which the face comes later once the start is forgotten, s: {@code L²/(2 a)}. */
    public double delaySeconds() {
        return metres * metres / (2 * diffusivity);
    }

    /** Returns the lag in K some time after a ramp began, of as many kelvins a second. */
    public double lag(double kelvinPerSecond, double seconds) {
        double tau = diffusivity * seconds / (metres * metres);
        double sum = 0;
        for (int n = TERMS - 1; n >= 0; n--) {
            double odd = 2.0 * n + 1;
            sum += (n % 2 == 0 ? 1 : -1) / (odd * odd * odd) * Math.exp(-odd * odd * Math.PI * Math.PI * tau / 4);
        }
        return kelvinPerSecond * delaySeconds() * (1 - 32 / (Math.PI * Math.PI * Math.PI) * sum);
    }

    /** Returns the time after a long ramp until the lag has fallen to a part in (0, 1) of it, s: {@code (4 L²/(pi² a)) ln(32/(pi³ part))}, the slowest term alone. */
    public double settleSeconds(double part) {
        return Math.max(
                0,
                4
                        * metres
                        * metres
                        / (Math.PI * Math.PI * diffusivity)
                        * Math.log(32 / (Math.PI * Math.PI * Math.PI * part)));
    }
}
