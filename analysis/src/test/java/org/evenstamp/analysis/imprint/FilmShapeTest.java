package org.evenstamp.analysis.imprint;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;

class FilmShapeTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 1e-4, 200, 100);

    /** By hand: the last tile is at 0.995 and 0.99: 1 + 0.0995 + 0.0495 + 0.3 ((0.990025 + 0.9801)/2 - 1/3) = 1.34451875, beside the middle 1 + 0.0005 + 0.0005 - 0.1 + 0.00001875 = 0.90101875. */
    @Test
    void an_uneven_film_keeps_its_mean() {
        double[] film = new FilmShape(0.1, 0.05, 0.3).metres(250e-9, FieldSet.empty(GRID));

        assertThat(Arrays.stream(film).average().orElseThrow()).isCloseTo(250e-9, within(1e-5 * 250e-9));
        assertThat(film[film.length - 1]).isCloseTo(1.34451875 * 250e-9, within(1e-9 * 250e-9));
        assertThat(film[GRID.index(100, 50)]).isCloseTo(0.90101875 * 250e-9, within(1e-9 * 250e-9));
        assertThat(new FilmShape(0, 0, 0).metres(250e-9, FieldSet.empty(GRID))).containsOnly(250e-9);
    }

    @Test
    void what_was_measured_stands() {
        double[] measured = new double[GRID.size()];
        Arrays.fill(measured, 300e-9);
        FieldSet fields = FieldSet.empty(GRID).with(List.of(Field.of(TileFields.FILM_COATED, GRID, measured)));

        assertThat(new FilmShape(0.1, 0, 0).metres(250e-9, fields)).containsOnly(300e-9);
    }

    @Test
    void a_shape_that_leaves_no_film_somewhere_is_refused() {
        assertThatThrownBy(() -> new FilmShape(0.5, 0.3, -0.2)).hasMessageContaining("without film");
    }
}
