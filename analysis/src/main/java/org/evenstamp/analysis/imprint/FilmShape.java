package org.evenstamp.analysis.imprint;

import java.util.List;
import java.util.Locale;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * A film that is not even, where nothing was measured: thickness over the mean is {@code 1 + right x + top y + corner ((x² + y²)/2 - 1/3)}, with x and y from -1 to 1 across
 * the map. The mean over the map stays the thickness that the job states.
 *
 * @param right share by which the right edge is thicker than the middle, and the left edge thinner
 * @param top the same for the top edge (y upward)
 * @param corner share by which the corners are thicker than the middle, negative where they are thinner
 */
public record FilmShape(double right, double top, double corner) {
    /** Unevenness along x. */
    public static final Quantity UNEVEN_X = Quantity.standard(
            "film.uneven-x",
            "%",
            0,
            -90,
            90,
            "share of its thickness by which the film is thicker at the right edge of the map than in the middle, and thinner at the left; not where the job"
                    + " gives a map of the film");
    /** Unevenness along y. */
    public static final Quantity UNEVEN_Y = Quantity.standard(
            "film.uneven-y",
            "%",
            0,
            -90,
            90,
            "share of its thickness by which the film is thicker at the upper edge of the map than in the middle, and thinner at the lower; not where the job"
                    + " gives a map of the film");
    /** Unevenness from the middle to the corners. */
    public static final Quantity UNEVEN_RADIAL = Quantity.standard(
            "film.uneven-radial",
            "%",
            0,
            -90,
            90,
            "share of its thickness by which the film is thicker in the corners of the map than in the middle, growing with the square of the distance; not where"
                    + " the job gives a map of the film");

    /** Checks that film is everywhere. */
    public FilmShape {
        if (!(Math.abs(right) + Math.abs(top) + Math.abs(corner) < 1)) {
            throw new InputException(
                    "film.uneven",
                    UNEVEN_X.id(),
                    String.format(
                            Locale.ROOT,
                            "an unevenness of %.4g %%, %.4g %% and %.4g %% leaves places without film",
                            100 * right,
                            100 * top,
                            100 * corner),
                    "together they stay below 100 %");
        }
    }

    /** Returns the parameters that {@link #of} reads. */
    public static List<Parameter> parameters() {
        return List.of(UNEVEN_X, UNEVEN_Y, UNEVEN_RADIAL);
    }

    /** Returns that of a job. */
    public static FilmShape of(Parameters p) {
        return new FilmShape(p.quantity(UNEVEN_X.id()), p.quantity(UNEVEN_Y.id()), p.quantity(UNEVEN_RADIAL.id()));
    }

    /** Returns the film of every tile before the imprint, m: the map that the job gives, or a mean in this shape. */
    public double[] metres(double mean, FieldSet fields) {
        TileGrid grid = fields.grid();
        double[] film = new double[grid.size()];
        var coated = fields.find(TileFields.FILM_COATED.id());
        for (int i = 0; i < film.length; i++) {
            double x = grid.across(i);
            double y = grid.upward(i);
            film[i] = coated.isPresent() ? coated.get().at(i) : mean * factor(x, y);
        }
        return film;
    }

    private double factor(double x, double y) {
        return 1 + right * x + top * y + corner * ((x * x + y * y) / 2 - 1 / 3.0);
    }
}
