package org.evenstamp.analysis.imprint;

import java.util.List;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * What a cavity that is not full does to the film below it: its surface pulls, the gas sealed above it pushes.
 *
 * @param tensionNewtonsPerMetre surface tension of the film, 0 for none
 * @param contactAngleRadians of the film on the stamp
 * @param gasPascals absolute pressure of the gas when the stamp touches, 0 for a vacuum
 * @param gasSolubility volume of gas that a volume of film holds at equal gas pressure (Henry), 0 for none
 */
public record Menisci(
        double tensionNewtonsPerMetre, double contactAngleRadians, double gasPascals, double gasSolubility) {
    /** No surface tension and no gas. */
    public static final Menisci NONE = new Menisci(0, 0, 0, 0);

    /** Surface tension of the film. */
    public static final Quantity SURFACE_TENSION = Quantity.optional(
            "film.surface-tension",
            "mN/m",
            0,
            1000,
            "surface tension of a liquid film, which draws it into the cavities; without it there is none");

    /** Contact angle of the film on the stamp. */
    public static final Quantity CONTACT_ANGLE = Quantity.standard(
            "film.contact-angle",
            "deg",
            0,
            0,
            180,
            "contact angle of a liquid film on the stamp; the default wets it fully (assumption, no source)");

    /** Pressure of the sealed gas. */
    public static final Quantity GAS_PRESSURE = Quantity.optional(
            "process.gas-pressure",
            "kPa",
            0,
            1e5,
            "absolute pressure of the gas sealed into the cavities when the stamp touches; without it there is a vacuum");

    /** How much gas the film dissolves. */
    public static final Quantity GAS_SOLUBILITY = Quantity.standard(
            "film.gas-solubility",
            "1",
            0,
            0,
            100,
            "volume of gas that a volume of film dissolves at equal gas pressure; the default dissolves none");

    /** How fast gas moves in the film. */
    public static final Quantity GAS_DIFFUSIVITY = Quantity.optional(
            "film.gas-diffusivity",
            "um^2/s",
            1e-6,
            1e9,
            "diffusivity of the sealed gas in the film: tells how long it takes to dissolve, which the film solve lets it do at once");

    /** Returns the parameters that {@link #of} reads. */
    public static List<Parameter> parameters() {
        return List.of(SURFACE_TENSION, CONTACT_ANGLE, GAS_PRESSURE, GAS_SOLUBILITY);
    }

    /** Reads them from a job's parameters. */
    public static Menisci of(Parameters parameters) {
        return new Menisci(
                parameters.find(SURFACE_TENSION.id()).orElse(0),
                parameters.quantity(CONTACT_ANGLE.id()),
                parameters.find(GAS_PRESSURE.id()).orElse(0),
                parameters.quantity(GAS_SOLUBILITY.id()));
    }

    /** Returns whether there is a surface tension, so that widths of cavities are asked for. */
    public boolean pulls() {
        return tensionNewtonsPerMetre > 0;
    }

    /**
     * Returns how long the film under land takes to take up 99 % of the gas that it can hold, s: a strip of the land's width, both edges at the gas (Crank's series). The width is
     * that of the strip with the same squeeze moment.
     *
     * @param moment squeeze moment of the land, m²
     * @param diffusivity of the gas in the film, m²/s
     */
    public static double dissolvingSeconds(double moment, double diffusivity) {
        return Slab.whenMean(0.01) * moment / 4 / diffusivity;
    }

    /** Returns the suction that a meniscus between stamp and substrate withstands before it moves in, Pa; never negative. */
    public double gapPascals(double gapMetres) {
        return Math.max(0, 2 * tensionNewtonsPerMetre * Math.cos(contactAngleRadians) / gapMetres);
    }

    /**
     * Returns by how much the film's surface pulls at it in every tile, Pa; 0 where widths are not known. Laplace's pressure {@code 2 γ
     * cos θ / g}: a slot as wide as the narrowest cavity of the tile draws film up its walls ({@code g} its width); in one
     * wider than high film bridges from substrate to roof and draws itself along ({@code g} the residual layer and the depth).
     *
     * @param film thickness of the film in every tile, m
     * @param volume cavity volume over a tile's area, m
     * @param fraction covered share of every tile
     */
    public double[] pullPascals(FieldSet fields, double[] film, double[] volume, double[] fraction) {
        double[] pull = new double[film.length];
        var width = fields.find(TileFields.CAVITY_WIDTH_MIN.id());
        if (!pulls() || width.isEmpty()) {
            return pull;
        }
        double twice = 2 * tensionNewtonsPerMetre * Math.cos(contactAngleRadians);
        for (int i = 0; i < pull.length; i++) {
            double w = width.get().at(i);
            if (w > 0 && volume[i] > 0) {
                double bridge = Math.max(0, film[i] - volume[i]) + volume[i] / fraction[i];
                pull[i] = twice / Math.min(w, bridge);
            }
        }
        return pull;
    }
}
