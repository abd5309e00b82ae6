package org.evenstamp.engine.result;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class AreaStatisticsTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 1e-4, 4, 1);
    private static final FieldName LAYER = FieldName.of("residual.final", "nm", "a layer");

    private static AreaStatistics of(double[] values, double... shares) {
        return AreaStatistics.of(Field.of(LAYER, GRID, values), tile -> shares[tile])
                .orElseThrow();
    }

    @Test
    void a_tile_counts_as_much_as_the_region_fills_of_it() {
        AreaStatistics one = of(new double[] {100e-9, 200e-9, 400e-9, Double.NaN}, 0.25, 0.75, 0, 1);

        assertThat(one.mean()).isCloseTo(175, within(1e-9));
        assertThat(one.min()).isCloseTo(100, within(1e-9));
        assertThat(one.max()).isCloseTo(200, within(1e-9));
        // 0.25 and 0.75 of the weight, 100 nm apart: the variance is 0.25 x 0.75 x 100^2.
        assertThat(one.sigma3()).isCloseTo(3 * Math.sqrt(1875), within(1e-9));
        assertThat(one.tiles()).isEqualTo(2);
        assertThat(new Region(null, 0, 0, new double[] {0.25, 0.75, 0, 1}).areaSquareMetres(GRID))
                .isCloseTo(2e-8, within(1e-20));
    }

    @Test
    void a_region_without_a_value_is_left_out() {
        Field field = Field.of(LAYER, GRID, new double[] {Double.NaN, 1, 1, 1});

        assertThat(AreaStatistics.of(field, tile -> tile == 0 ? 1 : 0)).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void a_region_that_fills_all_tiles_has_the_numbers_of_the_field(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] values = random.doubles(4, 1e-9, 300e-9).toArray();
        FieldStatistics whole = FieldStatistics.of(Field.of(LAYER, GRID, values));
        double share = random.nextDouble(0.1, 1);

        AreaStatistics one = of(values, share, share, share, share);

        assertThat(one.mean()).isCloseTo(whole.mean(), within(1e-9));
        assertThat(one.sigma3()).isCloseTo(3 * whole.sigma(), within(1e-9));
        assertThat(one.min()).isEqualTo(whole.min());
        assertThat(one.max()).isEqualTo(whole.max());
    }
}
