package org.evenstamp.shared.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever stands where a quantity should, the answer comes at once and is one for the user. */
@Timeout(10)
class AbsurdUnitTest {
    @ParameterizedTest
    @ValueSource(
            strings = {
                "1 m^99999999999",
                "1 m^-99999999999",
                "1 m^2147483648",
                "1 m^999",
                "1 km^99 km^99",
                "1 nm^99",
                "1 1^-",
                "1 /",
                "1 m^",
                "1e400 m",
                "1e99999999999 m",
                "1e m",
                ". m",
                "- m",
                "",
                " "
            })
    void an_absurd_quantity_is_refused(String text) {
        assertThatThrownBy(() -> Quantity.parse(text).si()).isInstanceOf(UnitException.class);
    }

    @Test
    void a_text_of_any_length_is_refused_at_once_and_not_repeated_whole() {
        for (String text : new String[] {
            "1".repeat(1_000_000) + "x",
            "1".repeat(1_000_000),
            "1 " + "m ".repeat(500_000),
            " ".repeat(1_000_000) + "x",
            "1" + " ".repeat(1_000_000) + "x"
        }) {
            assertThatThrownBy(() -> Quantity.parse(text))
                    .isInstanceOf(UnitException.class)
                    .satisfies(e ->
                            assertThat(String.valueOf(e.getMessage()).length()).isLessThan(300));
        }
        assertThatThrownBy(() -> Unit.parse("m".repeat(1_000_000))).isInstanceOf(UnitException.class);
    }

    @Test
    void what_is_long_but_sound_is_read() {
        assertThat(Quantity.parse("0.10000000000000000000000000000000000000000000000000000000000000000000000000001 m")
                        .si())
                .isEqualTo(0.1);
        assertThat(Quantity.parse(" +1.e-3 \t kPa s ").si()).isEqualTo(1);
    }
}
