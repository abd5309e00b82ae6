package org.evenstamp.analysis.drying;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.junit.jupiter.api.Test;

class DryingProviderTest {
    private static Trial film() {
        return new Trial(new DryingProvider(), 2, 1)
                .everywhere(TileFields.FLOW_PATH_MAX, 1e-6)
                .tile(1, TileFields.FLOW_PATH_MAX, 200e-6)
                .given("process.kind", "solvent-press")
                .given("process.solvent-share", "45 %")
                .given("process.swell-time", "300 s")
                .given("process.dry-time", "600 s")
                .given("process.temperature", "25 degC")
                .given("film.glass-temperature", "100 degC")
                .given("film.solvent-glass-temperature", "150 K")
                .given("film.thickness", "250 nm");
    }

    /**
     * By hand: Fox puts the glass temperature at 298.15 K with (1/298.15 - 1/373.15)/(1/150 - 1/373.15) = 0.169091 of solvent, 0.375758 of 45 %. The middle of a
     * slab has that left at tau = 0.49459. So 200 um at 10 um²/s set after 1978 s.
     */
    @Test
    void wide_land_sets_when_the_middle_of_a_slab_has() {
        Trial.Answer answer =
                film().given("film.solvent-diffusivity", "10 um^2/s").run();

        double needed = answer.at(DryingProvider.TIME, 1) * 10e-12 / (200e-6 * 200e-6);
        double first = 4 / Math.PI * Math.exp(-Math.PI * Math.PI * needed / 4);
        assertThat(first).isCloseTo(answer.figure("set.share") / 0.45, within(2e-5));
        assertThat(answer.figure("set.share")).isCloseTo(0.169091, within(1e-6));
        assertThat(answer.at(DryingProvider.TIME, 1)).isCloseTo(1978.365, within(1e-3));
        assertThat(answer.at(DryingProvider.TIME, 0))
                .isCloseTo(answer.at(DryingProvider.TIME, 1) / 40000, within(1e-9));
        assertThat(answer.at(DryingProvider.INDEX, 1)).isCloseTo(1978.0 / 600, within(2e-3));
        assertThat(answer.at(DryingProvider.LEFT, 0)).isCloseTo(0, within(1e-9));
        assertThat(answer.at(DryingProvider.LEFT, 1))
                .isCloseTo(0.45 * 0.8642, within(5e-5)); // 1 - 2 erfc(1/(2 sqrt 0.15)), by hand
        assertThat(answer.figure("soft")).isEqualTo(0.5);
        assertThat(answer.figure("swell.reached")).isCloseTo(1, within(1e-12));
        assertThat(answer.codes()).containsExactly("drying.soft");
    }

    @Test
    void a_stamp_that_lets_vapour_pass_dries_wide_land_as_fast_as_any() {
        Trial.Answer answer = film().given("film.solvent-diffusivity", "10 um^2/s")
                .given("process.dries-through", "stamp")
                .run();

        assertThat(answer.at(DryingProvider.TIME, 1))
                .isEqualTo(answer.at(DryingProvider.TIME, 0))
                .isLessThan(0.05);
        assertThat(answer.codes()).isEmpty();
    }

    @Test
    void a_diffusivity_known_to_a_factor_makes_places_that_may_be_soft() {
        Trial.Answer answer = film().given("film.solvent-diffusivity", "40 um^2/s")
                .given("film.solvent-diffusivity-factor", "10 1")
                .run();

        assertThat(answer.figure("soft")).isZero();
        assertThat(answer.figure("longest.most")).isCloseTo(10 * answer.figure("longest"), within(1e-9));
        assertThat(answer.codes()).containsExactly("drying.soft");
    }

    @Test
    void without_a_diffusivity_the_old_rule_holds_and_is_said() {
        Trial.Answer answer = film().run();

        assertThat(answer.field(DryingProvider.TIME).known(0)).isFalse();
        assertThat(answer.codes()).containsExactly("drying.steady");
    }

    @Test
    void a_film_that_is_pressed_before_it_is_swollen_through_is_told() {
        Trial.Answer answer = film().given("film.solvent-diffusivity", "1e-4 um^2/s")
                .given("process.dries-through", "stamp")
                .run();

        assertThat(answer.figure("swell.reached")).isLessThan(0.5);
        assertThat(answer.codes()).contains("drying.swelling");
    }
}
