package org.evenstamp.analysis.standing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.junit.jupiter.api.Test;

class SlumpProviderTest {
    /**
     * By hand: waves of 1 um on 50 nm + half of 300 nm, 30 mN/m, 1e4 Pa s fall at 3.2885588 1/s (Orchard); in 10 ms that takes 1 - exp(-0.032886) = 3.2351 %,
     * 0.647 of 5 %. Lines half filled, 150 nm high, lie on 125 nm: 1.45161 1/s (numbers of the closed form by another program), 1.4411 %.
     */
    @Test
    void lines_lose_what_the_closed_form_says_by_the_film_that_stands() {
        Trial.Answer answer = new Trial(new SlumpProvider(), 2, 1)
                .lines(0, 500e-9, 500e-9, 300e-9)
                .lines(1, 500e-9, 500e-9, 300e-9)
                .standing(1, 150e-9, 150e-9, 150e-9)
                .everywhere(ImprintFields.RESIDUAL_LOCAL, 50e-9)
                .given("film.surface-energy", "30 mJ/m^2")
                .given("film.shelf-viscosity", "1e4 Pa s")
                .given("process.shelf-time", "10 ms")
                .given("process.shelf-loss", "5 %")
                .run();

        assertThat(answer.at(SlumpProvider.LOSS, 0)).isCloseTo(0.032351, within(1e-6));
        assertThat(answer.at(SlumpProvider.INDEX, 0)).isCloseTo(0.64702, within(1e-5));
        assertThat(answer.at(SlumpProvider.LOSS, 1)).isCloseTo(0.014411, within(1e-6));
        assertThat(answer.figure("loss.most")).isCloseTo(0.032351, within(1e-6));
    }
}
