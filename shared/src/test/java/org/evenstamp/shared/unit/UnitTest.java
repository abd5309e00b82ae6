package org.evenstamp.shared.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class UnitTest {
    /**
     * BIPM, The International System of Units, 9th edition: derived units with names, prefixes, and the units accepted beside
     * the SI (min, h, d, litre, degree); 0 degC is 273.15 K. Bar and poise as in its 8th edition (from memory). One turn per
     * minute is 1/60 Hz by definition. A pound-force is 4.4482216152605 N, an inch 25.4 mm and a torr 1/760 of 101325 Pa by definition
     * (from memory).
     */
    @ParameterizedTest
    @CsvSource({
        "1 nm, 1e-9",
        "1 um, 1e-6",
        "1 \u00b5m, 1e-6",
        "1 \u03bcm, 1e-6",
        "1 mm, 1e-3",
        "1 cm, 1e-2",
        "1 m, 1",
        "1 ms, 1e-3",
        "1 min, 60",
        "1 h, 3600",
        "1 d, 86400",
        "1 kPa, 1e3",
        "1 MPa, 1e6",
        "1 GPa, 1e9",
        "1 bar, 1e5",
        "1 psi, 6894.757293168361",
        "1 torr, 133.32236842105263",
        "1 Torr, 133.32236842105263",
        "1 mTorr, 0.13332236842105263",
        "1 mil, 25.4e-6",
        "1 mbar, 100",
        "1 Pa s, 1",
        "1 mPa.s, 1e-3",
        "1 mPa s, 1e-3",
        "1 P, 0.1",
        "1 cP, 1e-3",
        "1 mN/m, 1e-3",
        "1 mJ/m^2, 1e-3",
        "1 N/m2, 1",
        "1 um^2, 1e-12",
        "1 1/um, 1e6",
        "1 1/K, 1",
        "1 um-1, 1e6",
        "1 nL, 1e-12",
        "1 pL, 1e-15",
        "1 kg, 1",
        "1 g/mol, 1e-3",
        "1 kg/m^3, 1",
        "1 nm/s, 1e-9",
        "25 %, 0.25",
        "180 deg, 3.141592653589793",
        "60 rpm, 1",
        "150 degC, 423.15",
        "-10 \u00b0C, 263.15",
        "3 1, 3"
    })
    void quantities_are_what_the_si_brochure_says(String text, double si) {
        assertThat(Quantity.parse(text).si()).isCloseTo(si, within(1e-12 * Math.abs(si)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"nm", "MPa", "mJ/m^2", "degC", "Pa s", "%", "rpm", "nL"})
    void a_value_survives_the_way_to_si_and_back(String symbol) {
        Unit unit = Unit.parse(symbol);

        assertThat(unit.fromSi(unit.toSi(37.5))).isCloseTo(37.5, within(1e-12));
    }

    @ParameterizedTest
    @CsvSource({"Pa, N/m^2", "J, N m", "W, J/s", "P, Pa s", "L, m^3", "mJ/m^2, mN/m", "1, %", "K, degC"})
    void what_measures_the_same_has_one_dimension(String one, String other) {
        assertThat(Unit.parse(one).dimension()).isEqualTo(Unit.parse(other).dimension());
    }

    @ParameterizedTest
    @CsvSource({"m, s", "Pa, N", "mol, 1", "K, m"})
    void what_measures_something_else_is_refused(String one, String other) {
        assertThatThrownBy(() -> new Quantity(1, Unit.parse(one)).siAs(Unit.parse(other)))
                .isInstanceOf(UnitException.class)
                .hasMessageContaining("\"" + one + "\"")
                .hasMessageContaining("\"" + other + "\"");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "   ", "furlong", "kbar%", "mmin", "nm/parsec"})
    void an_unknown_unit_is_refused(String symbol) {
        assertThatThrownBy(() -> Unit.parse(symbol)).isInstanceOf(UnitException.class);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "nm", "NaN nm", "1e999 nm", "1,5 nm", "12"})
    void text_that_is_no_quantity_is_refused(String text) {
        assertThatThrownBy(() -> Quantity.parse(text)).isInstanceOf(UnitException.class);
    }

    @Test
    void numbers_are_read_in_every_usual_form() {
        assertThat(Quantity.parse("  +1.5e2nm ").si()).isCloseTo(1.5e-7, within(1e-18));
        assertThat(Quantity.parse(".5 nm").value()).isEqualTo(0.5);
        assertThat(Quantity.parse("5. nm").value()).isEqualTo(5);
    }

    @ParameterizedTest
    @ValueSource(strings = {"1", "%", "nm", "MPa", "Pa s", "degC", "K/min", "mJ/m^2", "g/mol", "1/K", "N/mm"})
    void every_dimension_has_a_unit_in_si_that_is_read_again(String symbol) {
        Unit.Dimension dimension = Unit.parse(symbol).dimension();

        Unit si = Unit.parse(dimension.siSymbol());

        assertThat(si.dimension()).isEqualTo(dimension);
        assertThat(si.toSi(0.3)).isEqualTo(0.3);
    }
}
