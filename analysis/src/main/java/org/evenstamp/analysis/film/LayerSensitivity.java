package org.evenstamp.analysis.film;

import java.util.Arrays;
import org.evenstamp.analysis.film.solve.FilmGradient;

/**
 * How a goal goes with what went into a solve: a number made of the residual layer in m, or the time of filling in s. Maps are in
 * the order of the grid, in units of the goal over SI.
 */
public final class LayerSensitivity {
    private final double value;
    private final FilmGradient gradient;
    private final double[] changes;
    private final double swelling;

    LayerSensitivity(double value, FilmGradient gradient, double[] changes, double swelling) {
        this.value = value;
        this.gradient = gradient;
        this.changes = changes;
        this.swelling = swelling;
    }

    /** Returns the goal as it is, in m or s. */
    public double value() {
        return value;
    }

    /** Returns the change of the goal towards a variant that was asked for, to first order, in m or s. */
    public double change(int variant) {
        return changes[variant];
    }

    /** Returns the derivative by the cavity volume per area of each tile: deeper cavities. */
    public double[] byVolume() {
        return gradient.byVolume();
    }

    /** Returns the derivative by the cavity share of each tile, at the same cavity volume. */
    public double[] byFraction() {
        return gradient.byFraction();
    }

    /** Returns the derivative by the film that is coated on each tile. */
    public double[] byThickness() {
        return Arrays.stream(gradient.byThickness()).map(s -> s * swelling).toArray();
    }

    /** Returns the derivative by the slope of the stamp along x. */
    public double byWedgeX() {
        return gradient.byWedgeX();
    }

    /** Returns the derivative by the slope of the stamp along y. */
    public double byWedgeY() {
        return gradient.byWedgeY();
    }
}
