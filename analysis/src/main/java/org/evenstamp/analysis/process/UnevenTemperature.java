package org.evenstamp.analysis.process;

import java.util.List;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * A hot press that is not equally hot everywhere: the temperature while it is pressed grows linearly across the map, and the difference grows and fades with the
 * heat, in proportion to how far the press is above the temperature at which it started.
 *
 * @param right by how much the right edge is hotter than the middle while pressed, and the left edge colder, K
 * @param top the same for the top edge (y upward)
 */
public record UnevenTemperature(double right, double top) {
    /** Unevenness along x. */
    public static final Quantity UNEVEN_X = Quantity.standard(
            "process.uneven-temperature-x",
            "K",
            0,
            -200,
            200,
            "by how much the right edge of the map is hotter than the middle while a hot press presses, and the left edge colder");
    /** Unevenness along y. */
    public static final Quantity UNEVEN_Y = Quantity.standard(
            "process.uneven-temperature-y",
            "K",
            0,
            -200,
            200,
            "by how much the upper edge of the map is hotter than the middle while a hot press presses, and the lower edge colder");

    /** Returns that of a job. */
    public static UnevenTemperature of(Parameters p) {
        return new UnevenTemperature(p.quantity(UNEVEN_X.id()), p.quantity(UNEVEN_Y.id()));
    }

    /** Returns whether it is equally hot everywhere. */
    public boolean none() {
        return right == 0 && top == 0;
    }

    /**
     * Returns by how much a place is hotter than the middle while it is pressed, K.
     *
     * @param x place across the map, -1 at the left edge to 1 at the right
     * @param y place, -1 at the bottom edge to 1 at the top
     */
    public double difference(double x, double y) {
        return right * x + top * y;
    }

    /**
     * Returns the steps of a press as a place lives through them that is hotter by a difference while it is pressed.
     *
     * @param steps of the middle, temperatures as ramps, the first from the start
     */
    public static List<ProcessStep> at(double difference, List<ProcessStep> steps) {
        double start = steps.get(0).kelvin().at(0);
        double most =
                steps.stream().mapToDouble(step -> step.kelvin().most()).max().orElseThrow();
        double factor = most > start ? 1 + difference / (most - start) : 1;
        return steps.stream()
                .map(step -> new ProcessStep(
                        step.name(),
                        step.seconds(),
                        new StepProfile.Ramp(
                                start + factor * (step.kelvin().at(0) - start),
                                start + factor * (step.kelvin().at(1) - start)),
                        step.pascals(),
                        step.solvent(),
                        step.cures()))
                .toList();
    }
}
