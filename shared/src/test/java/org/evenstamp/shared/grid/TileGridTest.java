package org.evenstamp.shared.grid;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class TileGridTest {
    @Test
    void tiles_are_counted_from_the_lower_left_row_by_row() {
        TileGrid grid = new TileGrid(10, 20, 2, 3, 4);

        assertThat(grid.size()).isEqualTo(12);
        assertThat(grid.index(0, 0)).isZero();
        assertThat(grid.index(2, 0)).isEqualTo(2);
        assertThat(grid.index(0, 1)).isEqualTo(3);
        for (int i = 0; i < grid.size(); i++) {
            assertThat(grid.index(grid.column(i), grid.row(i))).isEqualTo(i);
        }
        assertThat(grid.centreXMetres(0)).isEqualTo(11);
        assertThat(grid.centreYMetres(3)).isEqualTo(27);
        assertThat(grid.tileAreaSquareMetres()).isEqualTo(4);
    }

    @Test
    void an_impossible_grid_is_refused() {
        assertThatThrownBy(() -> new TileGrid(Double.NaN, 0, 1, 1, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new TileGrid(0, 0, 0, 1, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new TileGrid(0, 0, Double.POSITIVE_INFINITY, 1, 1))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new TileGrid(0, 0, 1, 0, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new TileGrid(0, 0, 1, 100_000, 100_000)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void places_across_the_map_go_from_minus_one_at_one_side_to_one_at_the_other() {
        TileGrid grid = new TileGrid(3, -2, 0.5, 4, 2);

        assertThat(grid.across(grid.index(0, 1))).isEqualTo(-0.75);
        assertThat(grid.across(grid.index(3, 0))).isEqualTo(0.75);
        assertThat(grid.upward(grid.index(2, 0))).isEqualTo(-0.5);
        assertThat(grid.upward(grid.index(1, 1))).isEqualTo(0.5);
    }
}
