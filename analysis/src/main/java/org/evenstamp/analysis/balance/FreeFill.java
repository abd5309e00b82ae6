package org.evenstamp.analysis.balance;

import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.evenstamp.analysis.imprint.Menisci;

/**
 * How long a tile alone takes to fill under a constant pressure. With film {@code h0}, cavity volume {@code v} over the tile's
 * area, squeeze moment {@code T}, land share {@code θ} and the meniscus' pull {@code p_c} below land:
 * {@code t = η T ∫ dh / (h³ (p + θ p_c - p_g(h)))} from {@code h0 - v} to {@code h0}. Gas sealed in at {@code p_0} pushes after
 * Boyle with {@code p_g = p_0 (v/(v - h0 + h + k h0) - 1)}, less what a film of solubility {@code k} dissolves; without gas that
 * is Stefan's time.
 */
final class FreeFill {
    /** A residual layer thinner than this share of the film is rounding, not film. */
    private static final double ROUNDING = 1e-12;

    /** Pieces of the integral and points in each: the integrand is smooth in the logarithm, and so far below 1e-6 of it. */
    private static final int PIECES = 16;

    private static final GaussIntegratorFactory GAUSS = new GaussIntegratorFactory();
    private static final int POINTS = 10;

    private final double viscosityPascalSeconds;
    private final double pressurePascals;
    private final Menisci menisci;

    FreeFill(double viscosityPascalSeconds, double pressurePascals, Menisci menisci) {
        this.viscosityPascalSeconds = viscosityPascalSeconds;
        this.pressurePascals = pressurePascals;
        this.menisci = menisci;
    }

    /**
     * Returns the time, s; NaN where the tile never fills: too little film, nothing that presses, or gas that holds against it.
     *
     * @param film thickness of the film, m
     * @param volume cavity volume over the tile's area, m
     * @param momentSquareMetres the tile's squeeze moment
     * @param landPull what the meniscus pulls the stamp down with, averaged over the tile, Pa
     */
    double seconds(double film, double volume, double momentSquareMetres, double landPull) {
        double left = film - volume;
        double push = pressurePascals + landPull;
        if (left <= ROUNDING * film || push <= 0) {
            return Double.NaN;
        }
        if (menisci.gasPascals() == 0) {
            return viscosityPascalSeconds * momentSquareMetres / (2 * push) * (1 / (left * left) - 1 / (film * film));
        }
        double all = push + menisci.gasPascals();
        double empty = left - menisci.gasSolubility() * film; // the gap at which the gas would have no room left
        double stop = empty + menisci.gasPascals() * volume / all; // the gap at which the gas holds the stamp
        if (!(stop < left)) {
            return Double.NaN;
        }
        double from = Math.log(left - stop);
        double step = (Math.log(film - stop) - from) / PIECES;
        double sum = 0;
        for (int n = 0; n < PIECES; n++) {
            GaussIntegrator piece = GAUSS.legendre(POINTS, from + n * step, from + (n + 1) * step);
            sum += piece.integrate(u -> {
                double h = stop + Math.exp(u);
                return (h - empty) / (h * h * h);
            });
        }
        return viscosityPascalSeconds * momentSquareMetres / all * sum;
    }
}
