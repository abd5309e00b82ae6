package org.evenstamp.shared.field;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;

class FieldTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 1, 2, 2);
    private static final FieldName NAME = FieldName.of("some.field", "nm", "something");

    @Test
    void a_field_cannot_be_changed_from_outside() {
        double[] values = {1, 2, 3, 4};
        Field field = Field.of(NAME, GRID, values);
        values[0] = 9;
        field.toArray()[1] = 9;
        field.sorted()[2] = 9;

        assertThat(field.toArray()).containsExactly(1, 2, 3, 4);
        assertThat(field.at(1, 1)).isEqualTo(4);
    }

    @Test
    void a_tile_without_a_value_shows_it_and_never_as_nan() {
        Field field = Field.of(NAME, GRID, new double[] {4, Double.NaN, 1, Double.NaN});

        assertThat(field.known(0)).isTrue();
        assertThat(field.known(1)).isFalse();
        assertThat(field.knownCount()).isEqualTo(2);
        assertThat(field.at(1)).isZero();
        assertThat(field.toArray()).containsExactly(4, 0, 1, 0);
        assertThat(field.sorted()).containsExactly(1, 4);
    }

    @Test
    void infinite_values_and_wrong_lengths_are_refused() {
        assertThatThrownBy(() -> Field.of(NAME, GRID, new double[] {0, 0, Double.NEGATIVE_INFINITY, 0}))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("some.field")
                .hasMessageContaining("column 0, row 1");
        assertThatThrownBy(() -> Field.of(NAME, GRID, new double[3])).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void a_set_holds_one_field_of_an_id_on_one_grid_in_order() {
        Field a = Field.of(FieldName.of("a", "1", "a"), GRID, new double[4]);
        Field b = Field.of(FieldName.of("b", "1", "b"), GRID, new double[4]);
        FieldSet set = FieldSet.empty(GRID).with(List.of(b)).with(List.of(a));

        assertThat(set.all()).containsExactly(b, a);
        assertThat(set.find("a")).contains(a);
        assertThat(set.find("c")).isEmpty();
        assertThatThrownBy(() -> set.get(NAME)).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> set.with(List.of(a))).isInstanceOf(IllegalArgumentException.class);
        Field elsewhere = Field.of(NAME, new TileGrid(1, 0, 1, 2, 2), new double[4]);
        assertThatThrownBy(() -> set.with(List.of(elsewhere))).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void a_name_is_dotted_lower_case_words() {
        assertThatThrownBy(() -> FieldName.of("Not.Good", "1", "")).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> FieldName.of("a..b", "1", "")).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void the_fields_of_the_tile_map_have_different_ids() {
        assertThat(TileFields.all()).extracting(FieldName::id).doesNotHaveDuplicates();
    }
}
