package org.evenstamp.shared.spi;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import org.evenstamp.shared.field.FieldName;
import org.junit.jupiter.api.Test;

class SpiTest {
    private static final Parameter FILM = Parameter.Quantity.standard("film.thickness", "nm", 200, 1, 1000, "film");
    private static final Parameter MODE = new Parameter.Choice("film.mode", List.of("thin", "thick"), "mode");
    private static final FieldName FIELD = FieldName.of("a", "1", "a");

    @Test
    void defaults_fill_in_what_was_not_given() {
        Parameters given = Parameters.builder()
                .quantity("film.thickness", 3e-7)
                .defaults(List.of(FILM, MODE))
                .build();
        Parameters none = Parameters.builder().defaults(List.of(FILM, MODE)).build();

        assertThat(given.quantity("film.thickness")).isEqualTo(3e-7);
        assertThat(none.quantity("film.thickness")).isCloseTo(2e-7, within(1e-20));
        assertThat(none.choice("film.mode")).isEqualTo("thin");
        assertThat(none.find("film.other")).isEmpty();
        assertThat(none.table("process.steps")).isEmpty();
        assertThatThrownBy(() -> none.quantity("film.other")).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> none.choice("film.other")).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void rows_of_a_table_keep_their_order() {
        Parameters parameters = Parameters.builder()
                .table("process.steps", List.of(Map.of("time", 1.0), Map.of("time", 2.0)))
                .build();

        assertThat(parameters.table("process.steps"))
                .extracting(row -> row.get("time"))
                .containsExactly(1.0, 2.0);
    }

    @Test
    void a_default_outside_its_range_is_refused() {
        assertThatThrownBy(() -> Parameter.Quantity.standard("a.b", "nm", 5, 6, 7, "x"))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Parameter.Quantity.required("a.b", "nm", 7, 6, "x"))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void a_malformed_description_is_refused() {
        assertRefused("Upper", "summary", List.of(), List.of(), "dotted lower-case");
        assertRefused("id", " ", List.of(), List.of(), "summary is empty");
        assertRefused("id", "summary", List.of(FILM, FILM), List.of(), "declared twice");
        assertRefused(
                "id",
                "summary",
                List.of(Parameter.Quantity.required("thickness", "nm", 0, 1, "film")),
                List.of(),
                "section.key");
        assertRefused(
                "id",
                "summary",
                List.of(Parameter.Quantity.required("film.thickness", "nm", 0, 1, "")),
                List.of(),
                "has no meaning");
        assertRefused("id", "summary", List.of(), List.of(FIELD), "the field a is declared twice");
    }

    @Test
    void an_index_is_a_ratio_of_given_fields_with_a_word_of_help() {
        FieldName stress = FieldName.of("stress", "MPa", "stress");
        assertThatThrownBy(() -> Index.of(stress, "press less"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("unit must be 1");
        assertThatThrownBy(() -> new Index(FIELD, List.of(new Remedy(FIELD, "x"), new Remedy(stress, "y"))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("one unit");
        assertThatThrownBy(() -> new Remedy(FIELD, " ")).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new AnalysisDescription(
                        "id",
                        "summary",
                        List.of(),
                        List.of(),
                        List.of(),
                        List.of(FIELD),
                        List.of(new Index(FIELD, List.of(new Remedy(stress, "press less")))),
                        List.of()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("the field stress is judged but not given");
    }

    private static void assertRefused(
            String id, String summary, List<Parameter> parameters, List<FieldName> needs, String message) {
        assertThatThrownBy(() -> new AnalysisDescription(id, summary, parameters, needs, List.of(), List.of(FIELD)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining(message);
    }

    @Test
    void numbers_that_are_not_finite_are_refused_in_figures_and_curves() {
        assertThatThrownBy(() -> Figure.of("f", Double.NaN, "1", "x")).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Curve.Column("c", "1", new double[] {Double.POSITIVE_INFINITY}))
                .isInstanceOf(IllegalArgumentException.class);
        Curve.Column one = new Curve.Column("t", "s", new double[1]);
        Curve.Column two = new Curve.Column("h", "nm", new double[2]);
        assertThatThrownBy(() -> new Curve("c", "x", List.of(one, two))).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Curve("c", "x", List.of())).isInstanceOf(IllegalArgumentException.class);
    }
}
