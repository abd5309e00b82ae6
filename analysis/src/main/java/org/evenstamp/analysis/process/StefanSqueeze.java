package org.evenstamp.analysis.process;

import java.util.OptionalDouble;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;

/**
 * A single protrusion sinking into a film under the whole pressure, through a process history:
 * {@code 1/h^2 = 1/h0^2 + (2/T) integral of p/eta dt} (Stefan 1874). Slow and exact: the reference for a film solver, and a
 * first estimate of a hold.
 *
 * <p>Lubrication holds where the protrusion is much wider than the film is thick; below a ratio of about 3 the sinking is
 * slower than computed.
 */
public final class StefanSqueeze {
    /** Points per panel, relative stopping rule, and budget of evaluations per piece of the history. */
    private static final int POINTS = 16;

    private static final double RELATIVE = 1e-11;
    private static final int BUDGET = 200_000;
    private static final int HALVINGS = 60;

    private final ProcessHistory history;
    private final double squeezeMoment;
    private final double startMetres;

    /**
     * Puts a protrusion on a film.
     *
     * @param history temperature, pressure and viscosity against time
     * @param squeezeMomentSquareMetres T: the square of the width for a long strip, 1.5 R^2 for a disc
     * @param startMetres thickness of the film before, positive
     */
    public StefanSqueeze(ProcessHistory history, double squeezeMomentSquareMetres, double startMetres) {
        if (!(squeezeMomentSquareMetres > 0 && startMetres > 0)) {
            throw new IllegalArgumentException("a squeeze moment and a thickness are positive");
        }
        this.history = history;
        this.squeezeMoment = squeezeMomentSquareMetres;
        this.startMetres = startMetres;
    }

    /**
     * Returns the integral of pressure over viscosity from the start of the process, a pure number, to a relative 1e-11.
     *
     * @throws org.apache.commons.math3.exception.TooManyEvaluationsException when the budget does not suffice
     */
    public static double pressureOverViscosity(ProcessHistory history, double untilSeconds) {
        double sum = 0;
        double[] breaks = history.breakSeconds();
        for (int i = 0; i + 1 < breaks.length && breaks[i] < untilSeconds; i++) {
            double start = breaks[i];
            double end = Math.min(breaks[i + 1], untilSeconds);
            if (start >= history.flowStartSeconds() && end <= history.flowEndSeconds()) {
                sum += piece(history, start, end);
            }
        }
        return sum;
    }

    /** The substitution t = middle - half cos(s) takes the square roots off the ends of a roller's half ellipse. */
    private static double piece(ProcessHistory history, double start, double end) {
        double middle = 0.5 * (start + end);
        double half = 0.5 * (end - start);
        return new IterativeLegendreGaussIntegrator(POINTS, RELATIVE, Double.MIN_NORMAL)
                .integrate(
                        BUDGET,
                        s -> {
                            double t = middle - half * Math.cos(s);
                            return history.pressurePascals(t) * history.fluidity(t) * half * Math.sin(s);
                        },
                        0,
                        Math.PI);
    }

    /** Returns the thickness in m at a time. */
    public double thicknessMetres(double seconds) {
        return 1
                / Math.sqrt(
                        1 / (startMetres * startMetres) + 2 / squeezeMoment * pressureOverViscosity(history, seconds));
    }

    /** Returns when the film has thinned to a thickness, if it does before it sets. */
    public OptionalDouble secondsToReach(double metres) {
        double low = 0;
        double high = history.flowEndSeconds();
        if (!(metres > 0) || thicknessMetres(high) > metres) {
            return OptionalDouble.empty();
        }
        for (int i = 0; i < HALVINGS && high - low > RELATIVE * high; i++) {
            double middle = 0.5 * (low + high);
            if (thicknessMetres(middle) > metres) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return OptionalDouble.of(high);
    }
}
