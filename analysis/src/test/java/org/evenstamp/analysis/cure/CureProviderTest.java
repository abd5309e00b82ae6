package org.evenstamp.analysis.cure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.imprint.Trial;
import org.junit.jupiter.api.Test;

class CureProviderTest {
    private static Trial lamp() {
        return new Trial(new CureProvider(), 2, 1)
                .given("process.irradiance", "50 mW/cm^2")
                .given("film.dose", "500 mJ/cm^2")
                .given("stamp.transmission", "80 %")
                .given("process.lamp-side", "stamp");
    }

    /**
     * By hand: middles of two tiles stand at -1/2 and 1/2 of the way to the edges, so a lamp 20 % uneven gives 90 and 110 %. Through 80 %, 40 mW/cm² in the
     * middle, for 12 s: 432 and 528 mJ/cm². First order through 85 % at 500 mJ/cm²: 1 - 0.15^(432/500) = 0.80585, 1 - 0.15^(528/500) = 0.86512. The gel
     * point of 5 % is at 500 ln 0.95/ln 0.15 = 13.5186 mJ/cm²: 0.37552 s at 36 mW/cm².
     */
    @Test
    void dose_conversion_and_gel_time_follow_the_lamp_from_place_to_place() {
        Trial.Answer answer = lamp().given("process.lamp-uneven-x", "20 %")
                .given("process.exposure", "12 s")
                .given("film.cure-conversion", "85 %")
                .given("film.gel-conversion", "5 %")
                .given("film.cure-shrinkage", "4 %")
                .run();

        assertThat(answer.at(CureProvider.DOSE, 0)).isCloseTo(4320, within(1e-9));
        assertThat(answer.at(CureProvider.DOSE, 1)).isCloseTo(5280, within(1e-9));
        assertThat(answer.at(CureProvider.CONVERSION, 0)).isCloseTo(0.80585, within(1e-5));
        assertThat(answer.at(CureProvider.CONVERSION, 1)).isCloseTo(0.86512, within(1e-5));
        assertThat(answer.at(CureProvider.GEL_TIME, 0)).isCloseTo(0.37552, within(1e-5));
        assertThat(answer.at(CureProvider.SHRINKAGE, 0)).isCloseTo(0.04 * 0.80585 / 0.85, within(1e-6));
        assertThat(answer.at(CureProvider.INDEX, 0)).isCloseTo(500.0 / 432, within(1e-12));
        assertThat(answer.figure("transmission")).isEqualTo(0.8);
        assertThat(answer.figure("dose.least")).isCloseTo(4320, within(1e-9));
    }

    @Test
    void without_a_time_the_darkest_corner_gets_its_dose() {
        Trial.Answer answer = lamp().given("process.lamp-uneven-x", "20 %").run();

        assertThat(answer.figure("exposure"))
                .isCloseTo(500.0 / (40 * 0.8), within(1e-10)); // 1e-12 of it longer, against rounding
        assertThat(answer.at(CureProvider.INDEX, 0)).isLessThan(1);
    }

    @Test
    void what_is_not_known_has_no_value_and_is_said() {
        Trial.Answer answer = new Trial(new CureProvider(), 1, 1)
                .given("process.irradiance", "50 mW/cm^2")
                .given("film.dose", "500 mJ/cm^2")
                .given("process.gas-pressure", "100 kPa")
                .run();

        assertThat(answer.field(CureProvider.CONVERSION).known(0)).isFalse();
        assertThat(answer.codes()).containsExactly("cure.clear", "cure.unknown", "cure.oxygen");
    }

    @Test
    void a_film_that_does_not_gel_is_told_with_its_place() {
        Trial.Answer answer = lamp().given("process.exposure", "0.3 s")
                .given("film.cure-conversion", "85 %")
                .given("film.gel-conversion", "5 %")
                .run();

        assertThat(answer.codes()).containsExactly("cure.liquid");
        assertThat(answer.at(CureProvider.INDEX, 0)).isGreaterThan(1);
    }
}
