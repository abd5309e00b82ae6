package org.evenstamp.analysis.process;

import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/**
 * A press that does not press evenly: the pressure grows linearly across the stamp, as under a tilted platen with a soft
 * cushion. The mean over a rectangular stamp stays the pressure of the process.
 *
 * @param right share of the mean pressure by which the right edge gets more than the middle, and the left edge less
 * @param top the same for the top edge (y upward)
 */
public record UnevenPressure(double right, double top) {
    /** Checks that no corner is pulled. */
    public UnevenPressure {
        if (!(Math.abs(right) + Math.abs(top) <= 1)) {
            throw new InputException(
                    "process.uneven-pressure",
                    "",
                    String.format(
                            Locale.ROOT,
                            "an unevenness of %.6g and %.6g leaves a corner of the stamp without pressure",
                            right,
                            top),
                    "the two shares may add up to 1");
        }
    }

    /**
     * Returns the factor on the mean pressure, not negative.
     *
     * @param x place across the stamp, -1 at the left edge to 1 at the right
     * @param y place, -1 at the bottom edge to 1 at the top
     */
    public double factor(double x, double y) {
        return 1 + right * x + top * y;
    }
}
