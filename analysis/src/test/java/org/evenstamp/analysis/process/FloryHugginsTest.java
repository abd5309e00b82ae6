package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FloryHugginsTest {
    /** By hand: a = f exp((1 - f) + chi (1 - f)²); f 0.3, chi 0.4: 0.3 exp(0.7 + 0.196) = 0.734935. */
    @Test
    void the_activity_is_that_of_the_formula() {
        assertThat(new FloryHuggins(0.4).activity(0.3)).isCloseTo(0.734935, within(1e-6));
        assertThat(new FloryHuggins(0.4).activity(1)).isEqualTo(1);
    }

    @ParameterizedTest
    @CsvSource({"0.4, 0.1", "0.4, 0.45", "0, 0.7", "0.5, 0.3", "-1, 0.5", "1.2, 0.2"})
    void a_film_takes_up_what_its_vapour_asks_for(double chi, double share) {
        FloryHuggins film = new FloryHuggins(chi);
        assertThat(film.share(film.activity(share))).isCloseTo(share, within(1e-12));
    }

    /** Limits: Henry's law with exp(-1 - chi) for little vapour; a saturated one dissolves the film where chi is below 1/2, and not above. */
    @Test
    void little_vapour_follows_henry_and_a_poor_solvent_stays_bounded() {
        assertThat(new FloryHuggins(0.4).share(1e-6) / 1e-6).isCloseTo(Math.exp(-1.4), within(1e-5));
        assertThat(new FloryHuggins(0.3).share(0.9999))
                .isCloseTo(0.978044, within(1e-6)); // bisection by another program
        assertThat(new FloryHuggins(1.2).share(0.9999)).isLessThan(1 / 2.4);
        assertThat(new FloryHuggins(0.6).share(0.5)).isLessThan(new FloryHuggins(0.4).share(0.5));
    }
}
