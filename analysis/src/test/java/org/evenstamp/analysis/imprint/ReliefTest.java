package org.evenstamp.analysis.imprint;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;

class ReliefTest {
    private static Relief relief(double fraction, double volume, double edges, double walls, double width) {
        TileGrid grid = new TileGrid(0, 0, 50e-6, 1, 1);
        return Relief.of(FieldSet.empty(grid)
                .with(List.of(
                        field(TileFields.CAVITY_FRACTION, grid, fraction),
                        field(TileFields.CAVITY_VOLUME, grid, volume),
                        field(TileFields.EDGE_DENSITY, grid, edges),
                        field(TileFields.WALL_AREA, grid, walls),
                        field(TileFields.CAVITY_WIDTH_MIN, grid, width),
                        field(TileFields.PROTRUSION_WIDTH_MIN, grid, Double.NaN),
                        field(ImprintFields.FEATURE_HEIGHT, grid, fraction > 0 ? volume / fraction : Double.NaN),
                        field(ImprintFields.FEATURE_HEIGHT_MIN, grid, fraction > 0 ? volume / fraction : Double.NaN),
                        field(ImprintFields.FEATURE_HEIGHT_MAX, grid, fraction > 0 ? volume / fraction : Double.NaN))));
    }

    private static Field field(FieldName name, TileGrid grid, double value) {
        return Field.of(name, grid, new double[] {value});
    }

    @Test
    void a_grating_of_lines_has_shape_two() {
        Relief lines = relief(0.25, 50e-9, 2 / 400e-9, 2 / 400e-9 * 200e-9, 100e-9);
        assertThat(lines.shape(0)).isCloseTo(2, within(1e-12));
        assertThat(lines.height(0)).isCloseTo(200e-9, within(1e-20));
    }

    @Test
    void square_pillars_have_shape_four() {
        Relief pillars = relief(0.25, 50e-9, 4 * 100e-9 / (200e-9 * 200e-9), 2, 100e-9);
        assertThat(pillars.shape(0)).isCloseTo(4, within(1e-12));
    }

    @Test
    void a_sliver_of_a_large_cavity_is_not_taken_for_a_needle() {
        Relief sliver = relief(1e-6, 1e-6 * 200e-9, 1 / 50e-6, 200e-9 / 50e-6, Double.NaN);
        assertThat(sliver.width(0)).isEqualTo(50e-6);
        assertThat(sliver.shape(0)).isEqualTo(4);
    }

    @Test
    void a_tile_without_walls_or_without_cavity_has_no_features() {
        assertThat(relief(0, 0, 0, 0, Double.NaN).featured(0)).isFalse();
        assertThat(relief(1, 200e-9, 0, 0, Double.NaN).featured(0)).isFalse();
    }
}
