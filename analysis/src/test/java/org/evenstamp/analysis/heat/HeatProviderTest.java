package org.evenstamp.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.imprint.Trial;
import org.junit.jupiter.api.Test;

class HeatProviderTest {
    private static Trial press() {
        return new Trial(new HeatProvider(), 4, 1, 1e-3)
                .given("process.temperature", "180 degC")
                .given("process.cooling-rate", "20 K/min")
                .given("process.heating-rate", "30 K/min");
    }

    /** By hand: middles at -3/4 to 3/4 of the half map; 8 K at the edge are 174 and 186 degC. */
    @Test
    void the_temperature_grows_from_edge_to_edge() {
        Trial.Answer answer =
                press().given("process.uneven-temperature-x", "8 K").run();

        assertThat(answer.at(HeatProvider.TEMPERATURE, 0)).isCloseTo(273.15 + 174, within(1e-9));
        assertThat(answer.at(HeatProvider.TEMPERATURE, 3)).isCloseTo(273.15 + 186, within(1e-9));
    }

    /**
     * By hand: 2.6e-6 against 12.6e-6 1/K over 40 K is 4e-4; 1.5 mm from the middle 0.6 um, 1.2 times cavities of 500 nm, 0.6 times one of 1 um where the land has 2 um.
     */
    @Test
    void substrate_and_stamp_slide_past_each_other_by_the_distance_from_the_middle() {
        Trial trial = press().lines(0, 500e-9, 500e-9, 150e-9)
                .lines(3, 1e-6, 2e-6, 150e-9)
                .given("stamp.expansion", "12.6e-6 1/K")
                .given("release.substrate-expansion", "2.6e-6 1/K")
                .given("film.set-temperature", "100 degC")
                .given("release.temperature", "60 degC");
        Trial.Answer answer = trial.run();

        assertThat(answer.at(HeatProvider.SHIFT, 0)).isCloseTo(0.6e-6, within(1e-12));
        assertThat(answer.at(HeatProvider.RATIO, 0)).isCloseTo(1.2, within(1e-6));
        assertThat(answer.at(HeatProvider.RATIO, 3)).isCloseTo(0.6, within(1e-6));
        assertThat(answer.field(HeatProvider.RATIO).known(1)).isFalse();
        assertThat(answer.codes()).containsExactly("heat.shift");
        assertThat(trial.given("stamp.back-expansion", "2.6e-6 1/K").run().at(HeatProvider.SHIFT, 0))
                .isZero();
    }

    /** 3 mm of silicone rubber: 155 K at 0.5 K/s take 310 s, three time constants and more of 33 s; the lag is near its 20.45 K. */
    @Test
    void a_thick_rubber_stamp_lags_and_is_told() {
        Trial.Answer answer = press().given("stamp.thermal-diffusivity", "0.11 mm^2/s")
                .given("stamp.thickness", "3 mm")
                .given("process.substrate-thermal-diffusivity", "88 mm^2/s")
                .run();

        assertThat(answer.figure("lag.heating")).isCloseTo(20.4545, within(0.01));
        assertThat(answer.figure("lag.cooling")).isCloseTo(20.4545 * 2 / 3, within(1e-3));
        assertThat(answer.codes()).containsExactly("heat.lag");
    }

    @Test
    void a_wafer_follows_its_plates() {
        Trial.Answer answer =
                press().given("stamp.thermal-diffusivity", "88 mm^2/s").run();

        assertThat(answer.figure("lag.heating")).isLessThan(1e-3);
        assertThat(answer.codes()).isEmpty();
    }
}
