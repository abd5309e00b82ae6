package org.evenstamp.shared.field;

import java.util.List;

/** The names of the fields that are there before any analysis runs. */
public final class TileFields {
    /** Cavity area over tile area. */
    public static final FieldName CAVITY_FRACTION =
            FieldName.of("cavity.fraction", "1", "share of the tile's area that is cavity");
    /** Cavity volume over tile area. */
    public static final FieldName CAVITY_VOLUME =
            FieldName.of("cavity.volume", "nm", "cavity volume of the tile spread over its area");
    /** Shallowest cavity. */
    public static final FieldName CAVITY_DEPTH_MIN =
            FieldName.of("cavity.depth.min", "nm", "depth of the shallowest cavity in the tile");
    /** Deepest cavity. */
    public static final FieldName CAVITY_DEPTH_MAX =
            FieldName.of("cavity.depth.max", "nm", "depth of the deepest cavity in the tile");
    /** Side wall length over tile area. */
    public static final FieldName EDGE_DENSITY =
            FieldName.of("edge.density", "1/um", "length of cavity edges in the tile over its area");
    /** Side wall area over tile area. */
    public static final FieldName WALL_AREA =
            FieldName.of("wall.area", "1", "side wall area of the tile's cavities over the tile's area");
    /** Squeeze moment T. */
    public static final FieldName SQUEEZE_MOMENT = FieldName.of(
            "squeeze.moment", "um^2", "12 times the torsion function over the protrusions, spread over the tile");
    /** Mean flow path. */
    public static final FieldName FLOW_PATH_MEAN =
            FieldName.of("flow.path.mean", "um", "mean distance from a point under a protrusion to the nearest cavity");
    /** Longest flow path. */
    public static final FieldName FLOW_PATH_MAX = FieldName.of(
            "flow.path.max", "um", "largest distance from a point under a protrusion to the nearest cavity");
    /** Narrowest protrusion. */
    public static final FieldName PROTRUSION_WIDTH_MIN =
            FieldName.of("protrusion.width.min", "um", "width of the narrowest protrusion seen in the tile");
    /** Narrowest cavity. */
    public static final FieldName CAVITY_WIDTH_MIN =
            FieldName.of("cavity.width.min", "um", "width of the narrowest cavity seen in the tile");

    /** Film before the imprint; there only where a job gives the film as a map, and not among {@link #all}. */
    public static final FieldName FILM_COATED =
            FieldName.of("film.coated", "nm", "film thickness before the imprint, where the job gives it as a map");

    /** Light of the lamp; there only where a job gives it as a map, and not among {@link #all}. */
    public static final FieldName LAMP_IRRADIANCE = FieldName.of(
            "lamp.irradiance",
            "mW/cm^2",
            "irradiance of the lamp before stamp or substrate take their share, where the job gives it as a map");

    private TileFields() {}

    /** Returns those that are always there, in the order they are written. */
    public static List<FieldName> all() {
        return List.of(
                CAVITY_FRACTION,
                CAVITY_VOLUME,
                CAVITY_DEPTH_MIN,
                CAVITY_DEPTH_MAX,
                EDGE_DENSITY,
                WALL_AREA,
                SQUEEZE_MOMENT,
                FLOW_PATH_MEAN,
                FLOW_PATH_MAX,
                PROTRUSION_WIDTH_MIN,
                CAVITY_WIDTH_MIN);
    }
}
