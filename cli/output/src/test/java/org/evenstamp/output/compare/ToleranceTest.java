package org.evenstamp.output.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.shared.unit.UnitException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ToleranceTest {
    private static Tolerance of(List<String> absolute, List<String> relative) {
        return new Tolerance(
                absolute.stream().map(Tolerance.Absolute::parse).toList(),
                relative.stream().map(Tolerance.Relative::parse).toList());
    }

    @Test
    void a_length_holds_for_every_length_in_its_own_unit() {
        Tolerance tolerance = of(List.of("0.1 nm"), List.of());

        assertThat(tolerance.of("residual.final", "nm").size()).isEqualTo(0.1);
        assertThat(tolerance.of("flow.path.max", "um").size()).isCloseTo(1e-4, within(1e-15));
        assertThat(tolerance.of("fill.time", "s").size()).isZero();
    }

    @Test
    void that_of_a_field_goes_before_that_of_all_in_any_order() {
        for (List<String> order : List.of(List.of("1 nm", "a=2 nm"), List.of("a=2 nm", "1 nm"))) {
            assertThat(of(order, List.of()).of("a", "nm").size()).isEqualTo(2);
            assertThat(of(order, List.of()).of("b", "nm").size()).isEqualTo(1);
        }
        for (List<String> order : List.of(List.of("1e-3", "a=2 %"), List.of("a=2 %", "1e-3"))) {
            assertThat(of(List.of(), order).of("a", "nm").share()).isEqualTo(0.02);
            assertThat(of(List.of(), order).of("b", "s").share()).isEqualTo(1e-3);
        }
    }

    @Test
    void a_temperature_difference_has_no_offset() {
        assertThat(of(List.of("2 K"), List.of()).of("t", "degC").size()).isEqualTo(2);
        assertThat(of(List.of("2 degC"), List.of()).of("t", "degC").size()).isEqualTo(2);
    }

    @Test
    void without_a_tolerance_only_equal_numbers_are_the_same() {
        Tolerance.Allowance exact = Tolerance.EXACT.of("a", "nm");

        assertThat(exact.covers(0.1, 0.1)).isTrue();
        assertThat(exact.covers(0.1, Math.nextUp(0.1))).isFalse();
        assertThat(exact.covers(0.0, -0.0)).isTrue();
    }

    @Test
    void a_difference_equal_to_the_tolerance_is_within_it() {
        assertThat(new Tolerance.Allowance(0.1, 0).covers(0.2, 0.3)).isTrue(); // 0.3 - 0.2 is 0.09999999999999998
        assertThat(new Tolerance.Allowance(0.1, 0).covers(1.0, 1.1)).isTrue(); // 1.1 - 1.0 is 0.10000000000000009
        assertThat(new Tolerance.Allowance(0.1, 0).covers(1.0, 1.1000001)).isFalse();
        assertThat(new Tolerance.Allowance(0, 0.01).covers(-99, -100)).isTrue();
        assertThat(new Tolerance.Allowance(0, 0.01).covers(-98.9, -100)).isFalse();
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e-6", "0.1 %", "fill.time=3%", " a = 1 "})
    void shares_may_be_written_in_percent(String text) {
        assertThat(Stream.of(text).map(Tolerance.Relative::parse)).hasSize(1);
    }

    @ParameterizedTest
    @ValueSource(strings = {"x", "", "1 nm", "-1e-3", "a=", "a=b=1"})
    void what_is_no_share_is_refused_with_an_example(String text) {
        assertThatThrownBy(() -> Tolerance.Relative.parse(text))
                .isInstanceOf(UnitException.class)
                .hasMessageContaining("1e-6");
    }

    @ParameterizedTest
    @ValueSource(strings = {"3", "", "-1 nm", "a=3", "a=3 parsec"})
    void what_is_no_quantity_is_refused(String text) {
        assertThatThrownBy(() -> Tolerance.Absolute.parse(text)).isInstanceOf(UnitException.class);
    }
}
