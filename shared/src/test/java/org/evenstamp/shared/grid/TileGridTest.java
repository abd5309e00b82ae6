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
}
