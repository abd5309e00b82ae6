package org.evenstamp.analysis.process;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * A lamp that does not shine evenly: irradiance over that in the middle of the map, {@code 1 + right x + top y - falloff (x² + y²)/2}.
 *
 * @param right share by which the right edge gets more than the middle, and the left edge less
 * @param top the same for the top edge (y upward)
 * @param falloff share by which the corners get less than the middle, not negative
 */
public record Lamp(double right, double top, double falloff) {
    /** Unevenness along x. */
    public static final Quantity UNEVEN_X = Quantity.standard(
            "process.lamp-uneven-x",
            "%",
            0,
            -99,
            99,
            "share of the irradiance by which the right edge of the map gets more than the middle, and the left edge less");
    /** Unevenness along y. */
    public static final Quantity UNEVEN_Y = Quantity.standard(
            "process.lamp-uneven-y",
            "%",
            0,
            -99,
            99,
            "share of the irradiance by which the upper edge of the map gets more than the middle, and the lower edge less");
    /** Falling off to the corners. */
    public static final Quantity FALLOFF = Quantity.standard(
            "process.lamp-falloff",
            "%",
            0,
            0,
            99,
            "share of the irradiance by which the corners of the map get less than the middle, growing with the square of the distance");

    /** Checks that light comes to every corner. */
    public Lamp {
        if (!(falloff >= 0 && Math.abs(right) + Math.abs(top) + falloff < 1)) {
            throw new InputException(
                    "process.lamp-uneven",
                    "",
                    String.format(
                            Locale.ROOT,
                            "an unevenness of %.4g %% and %.4g %% with a fall of %.4g %% leaves a corner without light",
                            100 * right,
                            100 * top,
                            100 * falloff),
                    "together they stay below 100 %");
        }
    }

    /** Returns the lamp of a job. */
    public static Lamp of(Parameters p) {
        return new Lamp(p.quantity(UNEVEN_X.id()), p.quantity(UNEVEN_Y.id()), p.quantity(FALLOFF.id()));
    }

    /** Returns whether it shines alike everywhere on a map. */
    public boolean evenOver(FieldSet fields) {
        return right == 0
                && top == 0
                && falloff == 0
                && fields.find(TileFields.LAMP_IRRADIANCE.id()).isEmpty();
    }

    /**
     * Returns the factor on the irradiance of the middle for every tile: the map that the job gives, or this shape.
     *
     * @param inMiddle irradiance that the job states, which is the mean of its map where it gives one, W/m²
     */
    public double[] factors(FieldSet fields, double inMiddle) {
        TileGrid grid = fields.grid();
        double[] factors = new double[grid.size()];
        Optional<Field> measured = fields.find(TileFields.LAMP_IRRADIANCE.id());
        Arrays.setAll(
                factors,
                i -> measured.isPresent() ? measured.get().at(i) / inMiddle : factor(grid.across(i), grid.upward(i)));
        return factors;
    }

    /**
     * Returns the factor on the irradiance of the middle, positive.
     *
     * @param x place across the map, -1 at the left edge to 1 at the right
     * @param y place, -1 at the bottom edge to 1 at the top
     */
    public double factor(double x, double y) {
        return 1 + right * x + top * y - falloff * (x * x + y * y) / 2;
    }

    /** Returns the smallest factor on the map; the law is concave, so it is that of a corner. */
    public double least() {
        return 1 - Math.abs(right) - Math.abs(top) - falloff;
    }
}
