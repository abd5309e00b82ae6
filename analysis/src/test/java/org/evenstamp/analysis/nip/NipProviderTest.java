package org.evenstamp.analysis.nip;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NipProviderTest {
    private static Trial roller() {
        return new Trial(new NipProvider(), 4, 1)
                .given("process.kind", "roller")
                .given("process.temperature", "25 degC")
                .given("process.roller-diameter", "200 mm")
                .given("process.cover-modulus", "20 MPa")
                .given("process.line-force", "10 N/mm")
                .given("process.web-speed", "100 mm/s")
                .given("process.exposure", "10 s")
                .given("film.viscosity", "1e4 Pa s")
                .given("film.thickness", "250 nm");
    }

    private static Trial rolled(Trial trial) {
        for (int i = 0; i < 3; i++) {
            trial.lines(i, 500e-9, 500e-9, 300e-9);
        }
        return trial.everywhere(ImprintFields.RESIDUAL_FINAL, 50e-9)
                .tile(0, ImprintFields.FILL_TIME, 0.1400)
                .tile(1, ImprintFields.FILL_TIME, 0.1412)
                .tile(0, ImprintFields.FILL_SHARE, 0.97)
                .tile(1, ImprintFields.FILL_SHARE, 1)
                .tile(2, ImprintFields.FILL_SHARE, 0.4);
    }

    /**
     * The nip is 2 sqrt(4 F' R (1 - nu²)/(pi E)) = 13.911 mm wide (Hertz; Johnson, Contact Mechanics, 1985, ch. 4, by hand) and passes a
     * place in 0.13911 s; it has left the first tile of 100 um at 0.14011 s and the second at 0.14111 s.
     */
    @Test
    void a_tile_fills_in_the_nip_or_later_and_loses_what_the_foil_takes_back() {
        Trial.Answer answer = rolled(roller()).run();
        assertThat(answer.at(NipProvider.FILLED, 0)).isEqualTo(1);
        assertThat(answer.at(NipProvider.FILLED, 1)).isZero();
        assertThat(answer.at(NipProvider.FILLED, 2)).isZero();
        assertThat(answer.field(NipProvider.FILLED).known(3)).isFalse();
        assertThat(answer.at(NipProvider.SPRING_BACK, 0)).isCloseTo(0.03, within(1e-12));
        assertThat(answer.at(NipProvider.SPRING_BACK, 1)).isZero();
        assertThat(answer.field(NipProvider.SPRING_BACK).known(2)).isFalse();
        assertThat(answer.figure("filled")).isCloseTo(1 / 3.0, within(1e-12));
        assertThat(answer.figure("spring-back.most")).isCloseTo(0.03, within(1e-12));
    }

    /** Waves of 1 um on 200 nm of film, 30 mN/m, 1e4 Pa s fall at 3.2885588 1/s (Orchard, as in SlumpProviderTest); 10 ms take 3.2351 %. */
    @Test
    void surface_tension_flattens_from_the_nip_to_the_lamp() {
        Trial.Answer near = rolled(
                        roller().given("film.surface-energy", "30 mJ/m^2").given("process.lamp-delay", "10 ms"))
                .run();
        assertThat(near.at(NipProvider.LEVELLING, 0)).isCloseTo(0.032351, within(1e-6));
        assertThat(near.field(NipProvider.LEVELLING).known(3)).isFalse();

        // The lamp 7.9553 mm behind the middle of the nip is 1 mm behind its end: 10 ms at 100 mm/s.
        Trial.Answer distant = rolled(
                        roller().given("film.surface-energy", "30 mJ/m^2").given("process.lamp-distance", "7.9553 mm"))
                .run();
        assertThat(distant.at(NipProvider.LEVELLING, 0)).isCloseTo(0.032351, within(2e-5));
        assertThat(rolled(roller()).run().field(NipProvider.LEVELLING).known(0)).isFalse();
    }

    /** A melt with the shape of WLF cools within 40 ms; the integral of its fluidity by a sum of a million steps. */
    @Test
    void a_melt_flattens_while_it_cools() {
        Trial.Answer answer = rolled(roller().given("film.surface-energy", "30 mJ/m^2")
                        .given("process.temperature", "160 degC")
                        .given("release.temperature", "60 degC")
                        .given("film.glass-temperature", "100 degC")
                        .given("film.wlf-c1", "13.7 1")
                        .given("film.wlf-c2", "50 K")
                        .given("film.wlf-reference", "100 degC")
                        .given("process.cool-time", "40 ms"))
                .run();
        double sum = 0;
        int steps = 1_000_000;
        double hot = 1e4 * Math.pow(10, 13.7 * 60 / 110); // so that it is 1e4 Pa s at 160 degC
        for (int n = 0; n < steps; n++) {
            double above = 60 * (n + 0.5) / steps;
            sum += 0.024 / steps / (hot * Math.pow(10, -13.7 * above / (50 + above)));
        }
        assertThat(answer.at(NipProvider.LEVELLING, 0)).isCloseTo(-Math.expm1(-3.2885588e4 * sum), within(1e-6));
        assertThat(answer.at(NipProvider.LEVELLING, 0)).isBetween(0.005, 0.05);
    }

    /**
     * 10 mPa s at 3 mm/s under 10 N/mm, R = 0.1 m, E' = 2 E/(1 - nu²) = 52.639 MPa: U = 5.6992e-12, W = 1.89973e-3, h/R = 3.97 U^0.6 W^-0.2
     * = 2.492e-6 (evaluated by another program): 249.2 nm pass. A nip lets more of a stiffer liquid and a faster web pass.
     */
    @ParameterizedTest
    @CsvSource({"0.01, 3, 249.2e-9", "0.01, 60, 1.504e-6", "0.2, 3, 1.504e-6"})
    void a_film_thicker_than_what_passes_the_nip_banks_up(double viscosity, double speed, double passes) {
        Trial.Answer answer = rolled(roller().given("film.viscosity", viscosity + " Pa s")
                        .given("film.thickness", "400 nm")
                        .given("process.web-speed", speed + " mm/s"))
                .run();
        assertThat(answer.figure("bank")).isCloseTo(400e-9 / passes, withinPercentage(0.1));
        if (passes < 400e-9) {
            assertThat(answer.codes()).containsExactly("process.film-banks-up");
            // (400/249.2)^(1/0.6) times as fast
            assertThat(answer.result().warnings().get(0).message()).contains("run the web at 6.6");
        } else {
            assertThat(answer.codes()).isEmpty();
        }
    }

    @Test
    void another_kind_of_press_has_no_nip() {
        Trial.Answer answer = rolled(new Trial(new NipProvider(), 4, 1)
                        .given("process.web-speed", "100 mm/s")
                        .given("film.thickness", "250 nm")
                        .given("film.viscosity", "1 Pa s"))
                .run();
        assertThat(answer.field(NipProvider.FILLED).known(0)).isFalse();
    }
}
