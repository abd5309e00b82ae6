package org.evenstamp.analysis.stamp;

import java.util.Optional;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.standing.RoofSag;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;

/**
 * What presses on the stamp's protrusions while they carry alone: the tile's pressure over their share of its area, up to the
 * pressure at which the roofs between them rest on the film too ({@link RoofSag#touchingPressure}).
 *
 * <p>Land of less than a twentieth of a tile is mostly the tip of a protrusion that stands in the tiles beside it, and carries
 * along with these. There the pressures of three by three tiles count over their land, where that is less: for a protrusion
 * that stands alone the tiles around it carry nothing, and the two are the same.
 */
final class LandPressure {
    private static final double TIP = 0.05;

    private final TileGrid grid;
    private final Field volume;
    private final Field edges;
    private final Field fraction;
    private final Optional<Field> open;
    private final double applied;
    private final double planeModulus;
    private final double thickness;

    /**
     * Reads the fields.
     *
     * @param applied pressure, Pa, which counts where the film was not solved
     * @param planeModulus of the stamp, E/(1-ν²), Pa
     * @param thickness of the stamp, m
     */
    LandPressure(FieldSet fields, double applied, double planeModulus, double thickness) {
        grid = fields.grid();
        volume = fields.get(TileFields.CAVITY_VOLUME);
        edges = fields.get(TileFields.EDGE_DENSITY);
        fraction = fields.get(TileFields.CAVITY_FRACTION);
        open = fields.find(ImprintFields.PRESSURE_OPEN.id());
        this.applied = applied;
        this.planeModulus = planeModulus;
        this.thickness = thickness;
    }

    /** Returns the pressure on the protrusions of a tile that has some, Pa; NaN where the film says nothing of it. */
    double onLand(int tile) {
        double own = carried(tile) / land(tile);
        if (land(tile) >= TIP || Double.isNaN(own)) {
            return own;
        }
        double sum = 0;
        double area = 0;
        int column = grid.column(tile);
        int row = grid.row(tile);
        for (int y = Math.max(0, row - 1); y <= Math.min(grid.rows() - 1, row + 1); y++) {
            for (int x = Math.max(0, column - 1); x <= Math.min(grid.columns() - 1, column + 1); x++) {
                int at = grid.index(x, y);
                double carried = carried(at);
                if (!Double.isNaN(carried)) {
                    sum += carried;
                    area += land(at);
                }
            }
        }
        return Math.min(own, sum / area);
    }

    private double land(int tile) {
        return 1 - fraction.at(tile);
    }

    private double carried(int tile) {
        double pressure = Math.max(0, open.map(field -> field.at(tile)).orElse(applied));
        double share = fraction.at(tile);
        if (!(share > 0 && share < 1 && volume.at(tile) > 0 && edges.at(tile) > 0)) {
            return pressure;
        }
        double perEdge = 2 / edges.at(tile);
        double touching = RoofSag.touchingPressure(
                volume.at(tile) / share, share * perEdge, (1 - share) * perEdge, planeModulus, thickness);
        return Math.min(pressure, touching);
    }
}
