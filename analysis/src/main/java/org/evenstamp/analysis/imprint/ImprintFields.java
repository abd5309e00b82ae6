package org.evenstamp.analysis.imprint;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;

/** Fields of the imprint that the balance and the film solve give: declared here, once, for those who read them later. */
public final class ImprintFields {
    /** Residual layer without flow between tiles. */
    public static final FieldName RESIDUAL_LOCAL = FieldName.of(
            "residual.local",
            "nm",
            "residual layer when no film flows between tiles: film as it is pressed less cavity volume, and less what drying or"
                    + " curing takes");

    /** Fill time at the applied pressure. */
    public static final FieldName FILL_TIME_FREE = FieldName.of(
            "fill.time.free",
            "s",
            "time in which the tile fills alone under the applied pressure; no value where it never does or has no cavity");

    /** Filled share without flow between tiles. */
    public static final FieldName FILL_SHARE_LOCAL =
            FieldName.of("fill.share.local", "1", "share of the cavity volume that the tile's own film can fill");

    /** Height of the features. */
    public static final FieldName FEATURE_HEIGHT = FieldName.of(
            "feature.height",
            "nm",
            "height of the film's features over the residual layer: mean depth of the cavities times the share that is"
                    + " filled, less what drying or curing takes");

    /** Height of the lowest features. */
    public static final FieldName FEATURE_HEIGHT_MIN = FieldName.of(
            "feature.height.min",
            "nm",
            "height of the features that the tile's shallowest cavities leave, if film stands equally high in all of them");

    /** Height of the highest features. */
    public static final FieldName FEATURE_HEIGHT_MAX = FieldName.of(
            "feature.height.max",
            "nm",
            "height of the features that the tile's deepest cavities leave, if film stands equally high in all of them");

    /** Residual layer when the pressing ends. */
    public static final FieldName RESIDUAL_FINAL =
            FieldName.of("residual.final", "nm", "residual layer under the protrusions when the pressing ends");

    /** Filled share of the cavities when the pressing ends. */
    public static final FieldName FILL_SHARE = FieldName.of(
            "fill.share",
            "1",
            "share of the tile's cavity volume that is filled when the pressing ends, none without cavity");

    /** When film first met all roofs of the cavities. */
    public static final FieldName FILL_TIME = FieldName.of(
            "fill.time",
            "s",
            "time at which film first met all roofs of the tile's cavities: full, unless roofs that sagged onto it still lift off, and"
                    + " fill.share says how far; none where it never did or where there are no cavities");

    /** Largest pressure during the pressing. */
    public static final FieldName PRESSURE_PEAK =
            FieldName.of("pressure.peak", "MPa", "largest mean pressure on the stamp in the tile during the pressing");

    /** Elastic displacement of the stamp. */
    public static final FieldName STAMP_DEFLECTION = FieldName.of(
            "stamp.deflection",
            "nm",
            "elastic displacement of the stamp's face against its mean when the pressing ends");

    /** Largest pressure of a tile with room. */
    public static final FieldName PRESSURE_OPEN = FieldName.of(
            "pressure.open",
            "MPa",
            "highest mean pressure of the film on the stamp at the end of a time step at which the tile's cavities have"
                    + " room");

    /** Largest filling rate. */
    public static final FieldName FILL_RATE = FieldName.of(
            "fill.rate", "nm/s", "largest rate at which the tile's cavities take in film, volume per area and time");

    /** Filling that the stress remembers. */
    public static final FieldName FILL_UNRELAXED = FieldName.of(
            "fill.unrelaxed",
            "nm",
            "volume per area that the tile's cavities took in, as far as the film's stress has not relaxed when the pressing"
                    + " ends");

    /** Largest film flow. */
    public static final FieldName FILM_FLUX = FieldName.of(
            "film.flux",
            "um^2/s",
            "largest flow of film through the tile during the pressing, volume per width and time");

    private ImprintFields() {}

    /** Returns the solved residual layer where there is one, otherwise the local balance. Needs the latter, uses the former. */
    public static Field residual(FieldSet fields) {
        return fields.find(RESIDUAL_FINAL.id()).orElseGet(() -> fields.get(RESIDUAL_LOCAL));
    }
}
