package org.evenstamp.analysis.standing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.CancelledException;
import org.junit.jupiter.api.Test;

class StandingProviderTest {
    /** Slender lines, stout lines, plain land; film and stamp of the same soft rubber. */
    private static Trial trial() {
        return new Trial(new StandingProvider(), 3, 1)
                .lines(0, 1e-6, 1e-6, 3e-6)
                .lines(1, 20e-6, 20e-6, 1e-6)
                .given("film.modulus", "2 MPa")
                .given("film.poisson", "0.4999 1")
                .given("film.surface-energy", "20.1 mJ/m^2")
                .given("stamp.modulus", "2 MPa")
                .given("stamp.poisson", "0.4999 1")
                .given("process.pressure", "50 kPa");
    }

    @Test
    void slender_lines_pair_and_stout_ones_stand() {
        Trial.Answer answer = trial().run();
        assertThat(answer.at(StandingProvider.PAIRING, 0)).isCloseTo(3 / 2.65583436, withinPercentage(0.1));
        assertThat(answer.at(StandingProvider.PAIRING, 1)).isLessThan(0.1);
        assertThat(answer.figure("pairing.height")).isCloseTo(2.65583436e-6, withinPercentage(0.1));
        assertThat(answer.field(StandingProvider.PAIRING).known(2)).isFalse();
    }

    @Test
    void protrusions_of_a_soft_stamp_buckle_and_its_roofs_sag() {
        Trial.Answer answer = trial().run();
        // 50 kPa on half of the area; Euler's load 137.078 kPa at aspect 2 falls with the square of the aspect
        assertThat(answer.at(StandingProvider.BUCKLING, 0))
                .isCloseTo(100 / (137.077839 * 4 / 9), withinPercentage(0.1));
        assertThat(answer.at(StandingProvider.SAG, 1)).isCloseTo(0.420824889, withinPercentage(0.1));
    }

    @Test
    void the_solved_peak_pressure_goes_before_the_applied_one() {
        double twice =
                trial().everywhere(ImprintFields.PRESSURE_OPEN, 100e3).run().at(StandingProvider.SAG, 1);
        assertThat(twice).isCloseTo(2 * trial().run().at(StandingProvider.SAG, 1), withinPercentage(1e-9));
    }

    @Test
    void a_full_tile_holds_its_roofs_up_when_the_film_sets() {
        Trial.Answer answer = trial().tile(1, ImprintFields.FILL_TIME, 3)
                .everywhere(ImprintFields.PRESSURE_OPEN, 200e3)
                .run();
        assertThat(answer.at(StandingProvider.SAG, 1)).isZero();
        assertThat(answer.at(StandingProvider.SAG, 0)).isPositive(); // never full
        // 0.42 of the depth at 50 kPa
        assertThat(answer.codes()).containsExactly("standing.roof-touches");
        assertThat(trial().tile(1, ImprintFields.FILL_TIME, 3).run().codes()).isEmpty();
    }

    @Test
    void protrusions_bear_no_more_than_brings_the_roofs_down_on_the_film() {
        // wide shallow recesses beside narrow lines: at 50 kPa the roofs are long down
        Trial.Answer answer = trial().lines(1, 100e-6, 10e-6, 30e-9)
                .given("stamp.thickness", "1 mm")
                .run();
        double touching = 50e3 / answer.at(StandingProvider.SAG, 1);
        assertThat(answer.at(StandingProvider.SAG, 1)).isGreaterThan(10);
        assertThat(answer.at(StandingProvider.BUCKLING, 1))
                .isCloseTo(
                        touching * 11 / Buckling.line(2e6 / (1 - 0.4999 * 0.4999), 10e-6, 30e-9),
                        withinPercentage(1e-6));
    }

    @Test
    void a_stiff_stamp_neither_buckles_nor_sags() {
        Trial.Answer answer = trial().given("stamp.modulus", "130 GPa").run();
        assertThat(answer.at(StandingProvider.BUCKLING, 0)).isLessThan(1e-4);
        assertThat(answer.at(StandingProvider.SAG, 1)).isLessThan(1e-4);
    }

    /** A cavity of 400 um over three whole tiles of 100 um and half of the tile at either end, 1 um deep, under a plate of 130 GPa. */
    private static Trial wide() {
        Trial trial = new Trial(new StandingProvider(), 8, 1)
                .lines(1, 50e-6, 50e-6, 1e-6)
                .lines(5, 50e-6, 50e-6, 1e-6);
        for (int i = 2; i <= 4; i++) {
            trial.tile(i, TileFields.CAVITY_FRACTION, 1).tile(i, TileFields.CAVITY_VOLUME, 1e-6);
        }
        return trial.given("film.modulus", "3 GPa")
                .given("film.poisson", "0.35 1")
                .given("film.surface-energy", "37 mJ/m^2")
                .given("stamp.modulus", "130 GPa")
                .given("stamp.poisson", "0.28 1")
                .given("stamp.thickness", "100 um")
                .given("process.pressure", "5 MPa");
    }

    /**
     * By hand: E* = 141.059 GPa, D = 0.0117549 N m, a clamped strip {@code p b^4/(384 D)} = 28.3569 nm; the body behind it, two thicknesses
     * wide, {@code p 2 t/E*} = 7.08923 nm.
     */
    @Test
    void the_roof_of_a_cavity_over_whole_tiles_sags_by_its_own_span() {
        Trial.Answer answer = wide().run();
        for (int i = 2; i <= 4; i++) {
            assertThat(answer.at(StandingProvider.SAG, i)).isCloseTo(0.0354462, withinPercentage(1e-3));
        }
        assertThat(wide().given("stamp.kind", "bonded-layer").run().at(StandingProvider.SAG, 3))
                .as("nothing bends whose back is rigid")
                .isCloseTo(0.00708923, withinPercentage(1e-3));
        assertThat(wide().tile(3, ImprintFields.FILL_TIME, 3).run().at(StandingProvider.SAG, 3))
                .isZero();
        assertThat(answer.codes()).isEmpty();
    }

    @Test
    void a_cavity_without_any_wall_is_counted_and_said() {
        Trial trial = wide();
        for (int i = 0; i < 8; i++) {
            trial.tile(i, TileFields.CAVITY_FRACTION, 1)
                    .tile(i, TileFields.CAVITY_VOLUME, 1e-6)
                    .tile(i, TileFields.WALL_AREA, 0);
        }
        Trial.Answer answer = trial.run();
        assertThat(answer.codes()).containsExactly("standing.sag-unknown");
        assertThat(answer.field(StandingProvider.SAG).known(3)).isFalse();
    }

    @Test
    void it_can_be_stopped() {
        assertThatThrownBy(() -> trial().cancelled().run()).isInstanceOf(CancelledException.class);
    }

    /** Worked: levelling at 3.28855881 1/s for a wave of 1 um on 200 nm. */
    @Test
    void patterns_slump_by_orchards_rate_over_the_shelf_time() {
        Trial.Answer answer = new Trial(new SlumpProvider(), 2, 1)
                .lines(0, 500e-9, 500e-9, 200e-9)
                .everywhere(ImprintFields.RESIDUAL_LOCAL, 100e-9)
                .given("film.surface-energy", "30 mJ/m^2")
                .given("film.shelf-viscosity", "1e4 Pa s")
                .given("process.shelf-time", "0.1 s")
                .given("process.shelf-loss", "10 %")
                .run();
        double loss = 1 - Math.exp(-0.328855881);
        assertThat(answer.at(SlumpProvider.LOSS, 0)).isCloseTo(loss, withinPercentage(1e-5));
        assertThat(answer.at(SlumpProvider.INDEX, 0)).isCloseTo(loss / 0.1, withinPercentage(1e-5));
        assertThat(answer.figure("loss.most")).isCloseTo(loss, within(1e-6));
        assertThat(answer.field(SlumpProvider.LOSS).known(1)).isFalse();
    }
}
