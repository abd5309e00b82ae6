package org.evenstamp.analysis.imprint;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;

/** Fields of the filling that later analyses read, by id and unit as their makers declare them. */
public final class ImprintFields {
    /** Residual layer by the film solver. */
    public static final FieldName RESIDUAL_FINAL =
            FieldName.of("residual.final", "nm", "film left under the protrusions at the end of the hold");
    /** Residual layer by the tile's own balance. */
    public static final FieldName RESIDUAL_LOCAL =
            FieldName.of("residual.local", "nm", "film left under the protrusions if nothing flows between tiles");
    /** Filled share of the cavities by the film solver. */
    public static final FieldName FILL_SHARE =
            FieldName.of("fill.share", "1", "share of the tile's cavity volume that is filled");
    /** Fill time by the film solver. */
    public static final FieldName FILL_TIME =
            FieldName.of("fill.time", "s", "time at which the tile's cavities are full");
    /** Fill time of the tile alone. */
    public static final FieldName FILL_TIME_FREE =
            FieldName.of("fill.time.free", "s", "time in which the tile alone would fill under the applied pressure");
    /** Highest pressure by the film solver while the tile has room. */
    public static final FieldName PRESSURE_OPEN = FieldName.of(
            "pressure.open",
            "MPa",
            "highest mean pressure of the film on the stamp while the tile's cavities have room");
    /** Largest filling rate by the film solver. */
    public static final FieldName FILL_RATE =
            FieldName.of("fill.rate", "nm/s", "largest rate at which the tile's cavities take in film");
    /** Filling that the stress remembers, by the film solver. */
    public static final FieldName FILL_UNRELAXED = FieldName.of(
            "fill.unrelaxed", "nm", "volume per area taken in, as far as the film's stress has not relaxed");
    /** Deflection of the stamp's face by the film solver. */
    public static final FieldName STAMP_DEFLECTION =
            FieldName.of("stamp.deflection", "nm", "deflection of the stamp's face at the end of the hold");

    private ImprintFields() {}

    /** Returns the solved residual layer where there is one, otherwise the local balance. Needs the latter, uses the former. */
    public static Field residual(FieldSet fields) {
        return fields.find(RESIDUAL_FINAL.id()).orElseGet(() -> fields.get(RESIDUAL_LOCAL));
    }
}
