package org.evenstamp.analysis.stress;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.junit.jupiter.api.Test;

class FrozenStressProviderTest {
    /** Narrow lines, wide lines, plain land. */
    private static Trial trial() {
        return new Trial(new FrozenStressProvider(), 3, 1)
                .lines(0, 100e-9, 300e-9, 200e-9)
                .lines(1, 10e-6, 30e-6, 200e-9)
                .everywhere(ImprintFields.FILL_TIME_FREE, 10)
                .given("film.viscosity", "1e6 Pa s")
                .given("process.hold", "30 s")
                .given("film.plateau-modulus", "1e5 Pa")
                .given("film.modulus", "3 GPa")
                .given("film.poisson", "0.35 1")
                .given("film.strength", "70 MPa")
                .given("film.expansion", "70e-6 1/K")
                .given("film.set-temperature", "105 degC")
                .given("release.temperature", "25 degC")
                .given("stamp.expansion", "2.6e-6 1/K");
    }

    @Test
    void the_frozen_stress_is_the_closed_form_of_fill_and_hold() {
        Trial.Answer answer = trial().run();
        // v = 50 nm in 10 s, U = 5 nm/s / 0.25, slot of 100 nm; lambda = 10 s; relaxed through 20 s
        double rate = 6 * (50e-9 / 10 / 0.25) / 100e-9;
        double frozen = 1e6 * rate * (1 - Math.exp(-1)) * Math.exp(-2);
        assertThat(answer.at(FrozenStressProvider.RATE, 0)).isCloseTo(rate, withinPercentage(1e-9));
        assertThat(answer.at(FrozenStressProvider.FROZEN, 0)).isCloseTo(frozen, withinPercentage(1e-9));
        assertThat(answer.at(FrozenStressProvider.THERMAL, 0)).isCloseTo(24.8861538e6, withinPercentage(1e-6));
        assertThat(answer.at(FrozenStressProvider.INDEX, 0))
                .isCloseTo((frozen + 24.8861538e6) / 70e6, withinPercentage(1e-6));
        assertThat(answer.at(FrozenStressProvider.FROZEN, 1)).isCloseTo(frozen / 100, withinPercentage(1e-9));
    }

    @Test
    void plain_land_has_no_walls_and_no_value() {
        Trial.Answer answer = trial().run();
        assertThat(answer.field(FrozenStressProvider.FROZEN).known(2)).isFalse();
        assertThat(answer.field(FrozenStressProvider.INDEX).knownCount()).isEqualTo(2);
    }

    @Test
    void a_longer_hold_a_thinner_film_and_a_slipping_coat_lower_it() {
        double plain = trial().run().at(FrozenStressProvider.FROZEN, 0);
        double longer = trial().given("process.hold", "60 s").run().at(FrozenStressProvider.FROZEN, 0);
        double hotter = trial().given("film.viscosity", "3e5 Pa s").run().at(FrozenStressProvider.FROZEN, 0);
        double coated = trial().given("stamp.coating", "release")
                .given("stamp.slip-length", "50 nm")
                .run()
                .at(FrozenStressProvider.FROZEN, 0);
        assertThat(longer).isLessThan(plain);
        assertThat(hotter).isLessThan(plain);
        assertThat(coated).isCloseTo(plain / 4, withinPercentage(1e-9)); // 1 + 6 b/w
    }

    @Test
    void slip_without_a_coating_is_refused() {
        assertThatThrownBy(() -> trial().given("stamp.slip-length", "50 nm").run())
                .isInstanceOf(InputException.class)
                .hasMessageContaining("slip length of 50")
                .hasMessageContaining("stamp.coating");
    }

    @Test
    void the_solved_fill_time_goes_before_the_free_one() {
        double slow = trial().everywhere(ImprintFields.FILL_TIME, 20).run().at(FrozenStressProvider.RATE, 0);
        assertThat(slow).isCloseTo(trial().run().at(FrozenStressProvider.RATE, 0) / 2, withinPercentage(1e-9));
    }

    @Test
    void a_tile_that_never_fills_shears_by_what_it_takes_over_the_hold() {
        Trial.Answer answer = trial().everywhere(ImprintFields.FILL_TIME, Double.NaN)
                .everywhere(ImprintFields.FILL_SHARE, 0.6)
                .run();
        assertThat(answer.at(FrozenStressProvider.RATE, 0))
                .isCloseTo(6 * (0.6 * 50e-9 / 30 / 0.25) / 100e-9, withinPercentage(1e-9));
    }

    @Test
    void a_free_fill_beyond_the_hold_keeps_its_mean_speed() {
        Trial.Answer answer =
                trial().everywhere(ImprintFields.FILL_TIME_FREE, 3000).run();
        assertThat(answer.at(FrozenStressProvider.RATE, 0))
                .isCloseTo(6 * (50e-9 / 3000 / 0.25) / 100e-9, withinPercentage(1e-9));
    }

    @Test
    void the_solved_history_goes_before_the_mean_one() {
        Trial.Answer answer = trial().everywhere(ImprintFields.FILL_RATE, 40e-9)
                .everywhere(ImprintFields.FILL_UNRELAXED, 2e-9)
                .run();
        // slot of 100 nm, a quarter of the area: 6 U/w with U = 4 times the rate per area
        assertThat(answer.at(FrozenStressProvider.RATE, 0)).isCloseTo(6 * 160e-9 / 100e-9, withinPercentage(1e-9));
        assertThat(answer.at(FrozenStressProvider.FROZEN, 0))
                .isCloseTo(1e5 * 6 * 8e-9 / 100e-9, withinPercentage(1e-9));
        Trial.Answer coated = trial().everywhere(ImprintFields.FILL_UNRELAXED, -2e-9)
                .given("stamp.coating", "release")
                .given("stamp.slip-length", "50 nm")
                .run();
        assertThat(coated.at(FrozenStressProvider.FROZEN, 0))
                .isCloseTo(answer.at(FrozenStressProvider.FROZEN, 0) / 4, withinPercentage(1e-9));
    }

    @Test
    void unknown_fill_times_give_no_value() {
        Trial.Answer answer =
                trial().everywhere(ImprintFields.FILL_TIME_FREE, Double.NaN).run();
        assertThat(answer.field(FrozenStressProvider.FROZEN).knownCount()).isZero();
    }

    @Test
    void no_shrinkage_leaves_no_thermal_stress() {
        Trial.Answer answer = trial().given("film.expansion", "2.6e-6 1/K").run();
        assertThat(answer.at(FrozenStressProvider.THERMAL, 0)).isZero();
    }

    @Test
    void flow_faster_than_the_melt_relaxes_is_flagged() {
        assertThat(trial().run().codes()).contains("stress.fast");
        assertThat(trial().given("film.viscosity", "1e3 Pa s").run().codes()).isEmpty();
    }

    @Test
    void a_map_without_features_is_answered_without_values() {
        Trial.Answer answer = trial().everywhere(TileFields.CAVITY_FRACTION, 0).run();
        assertThat(answer.field(FrozenStressProvider.INDEX).knownCount()).isZero();
    }

    @Test
    void it_can_be_stopped() {
        assertThatThrownBy(() -> trial().cancelled().run()).isInstanceOf(CancelledException.class);
    }
}
