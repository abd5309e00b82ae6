package org.evenstamp.analysis.release;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.function.IntConsumer;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.progress.CancelledException;
import org.junit.jupiter.api.Test;

class ReleaseProviderTest {
    private static final double STRENGTH = 70e6;

    /** PMMA under a silicon stamp on a silicon wafer, 105 to 25 degC. */
    private static Trial bare(int columns, int rows, double pitch) {
        return new Trial(new ReleaseProvider(), columns, rows, pitch)
                .given("film.modulus", "3 GPa")
                .given("film.poisson", "0.35 1")
                .given("film.strength", "70 MPa")
                .given("film.surface-energy", "37.5 mJ/m^2")
                .given("film.expansion", "70e-6 1/K")
                .given("film.set-temperature", "105 degC")
                .given("stamp.expansion", "2.6e-6 1/K")
                .given("stamp.modulus", "130 GPa")
                .given("stamp.poisson", "0.278 1")
                .given("stamp.thickness", "525 um")
                .given("release.temperature", "25 degC")
                .given("release.stamp-energy", "19.4 mJ/m^2")
                .given("release.friction", "0.3 1")
                .given("release.substrate-expansion", "2.6e-6 1/K");
    }

    private static Trial everywhere(Trial trial, IntConsumer tile) {
        for (int i = 0; i < trial.grid().size(); i++) {
            tile.accept(i);
        }
        return trial;
    }

    private static Trial lines(double width, double depth) {
        Trial trial = bare(5, 5, 100e-6);
        return everywhere(trial, i -> trial.lines(i, width, width, depth));
    }

    @Test
    void the_terms_are_the_closed_forms_when_pulled_straight() {
        Trial.Answer answer =
                lines(100e-9, 200e-9).given("release.mode", "pull").run();
        double ring = 3e9 * 0.005392 * 0.5 / (0.65 * 0.5 + 1.35);
        assertThat(answer.at(ReleaseProvider.FRICTION, 12))
                .isCloseTo(2 * 4 * 0.3 * ring / STRENGTH, withinPercentage(1e-6));
        double work = 53.9444158e-3;
        double adhesion = 4 * 2 * work / 200e-9 + Math.sqrt(2 * 3e9 * work / 200e-9);
        assertThat(answer.at(ReleaseProvider.ADHESION, 12)).isCloseTo(2 * adhesion / STRENGTH, withinPercentage(1e-6));
        assertThat(answer.at(ReleaseProvider.BENDING, 12)).isZero();
        assertThat(answer.figure("work")).isCloseTo(work, withinPercentage(1e-6));
        double walls = 2 / 200e-9 * 200e-9;
        double traction = walls * (0.3 * ring + 2 * work / 200e-9);
        assertThat(answer.figure("force.pull")).isCloseTo(traction * 25 * 1e-8, withinPercentage(1e-6));
        assertThat(answer.result().curves()).isEmpty();
    }

    @Test
    void the_tear_index_is_the_sum_of_its_terms_times_the_exposure() {
        Trial.Answer answer = lines(100e-9, 200e-9).run();
        for (int i = 0; i < 25; i++) {
            double sum = answer.at(ReleaseProvider.FRICTION, i)
                    + answer.at(ReleaseProvider.ADHESION, i)
                    + answer.at(ReleaseProvider.BENDING, i);
            assertThat(answer.at(ReleaseProvider.TEAR, i))
                    .isCloseTo(answer.at(ReleaseProvider.EXPOSURE, i) * sum, withinPercentage(1e-9));
        }
    }

    @Test
    void peeling_bends_features_and_spares_their_faces() {
        Trial.Answer peel = lines(100e-9, 200e-9).run();
        Trial.Answer pull = lines(100e-9, 200e-9).given("release.mode", "pull").run();
        assertThat(peel.at(ReleaseProvider.ADHESION, 12)).isLessThan(pull.at(ReleaseProvider.ADHESION, 12));
        assertThat(peel.at(ReleaseProvider.BENDING, 12)).isPositive();
        assertThat(peel.figure("force.peel")).isLessThan(pull.figure("force.pull"));
        assertThat(peel.result().curves()).hasSize(1);
    }

    @Test
    void without_shrinkage_there_is_no_friction_and_nothing_leans() {
        Trial.Answer answer =
                lines(100e-9, 200e-9).given("film.expansion", "2.6e-6 1/K").run();
        assertThat(answer.at(ReleaseProvider.FRICTION, 12)).isZero();
        assertThat(answer.at(ReleaseProvider.BENDING, 12)).isZero();
        assertThat(answer.at(ReleaseProvider.ADHESION, 12)).isPositive();
    }

    @Test
    void wide_features_feel_no_friction_at_their_feet() {
        assertThat(lines(90e-6, 200e-9).run().at(ReleaseProvider.FRICTION, 12)).isLessThan(1e-3);
    }

    @Test
    void pillars_tear_before_lines_and_slender_ones_before_stout_ones() {
        Trial square = bare(5, 5, 100e-6);
        double pillars = everywhere(square, i -> square.pillars(i, 100e-9, 41.42e-9, 200e-9))
                .run()
                .at(ReleaseProvider.FRICTION, 12);
        double lines = lines(100e-9, 200e-9).run().at(ReleaseProvider.FRICTION, 12);
        assertThat(pillars / lines).isCloseTo(2, within(0.1)); // the same cavity fraction, twice the perimeter
        assertThat(lines(100e-9, 400e-9).run().at(ReleaseProvider.TEAR, 12))
                .isGreaterThan(lines(100e-9, 200e-9).run().at(ReleaseProvider.TEAR, 12));
    }

    @Test
    void a_coating_of_low_energy_and_low_friction_lowers_index_and_force() {
        Trial.Answer bare =
                lines(100e-9, 200e-9).given("release.stamp-energy", "70 mJ/m^2").run();
        Trial.Answer coated = lines(100e-9, 200e-9)
                .given("release.stamp-energy", "12 mJ/m^2")
                .given("release.friction", "0.1 1")
                .run();
        assertThat(coated.at(ReleaseProvider.TEAR, 12)).isLessThan(bare.at(ReleaseProvider.TEAR, 12));
        assertThat(coated.figure("force.peel")).isLessThan(bare.figure("force.peel"));
        assertThat(coated.figure("force.pull")).isLessThan(bare.figure("force.pull"));
    }

    @Test
    void a_contact_angle_goes_before_the_surface_energies() {
        Trial.Answer answer = lines(100e-9, 200e-9)
                .given("film.surface-energy", "72.8 mJ/m^2")
                .given("release.contact-angle", "107.2 deg")
                .run();
        assertThat(answer.figure("work")).isCloseTo(51.2724540e-3, withinPercentage(1e-6));
    }

    @Test
    void edges_of_a_field_and_lone_tiles_are_exposed() {
        Trial trial = bare(9, 9, 100e-6);
        for (int row = 3; row < 6; row++) {
            for (int column = 3; column < 6; column++) {
                trial.lines(row * 9 + column, 100e-9, 100e-9, 200e-9);
            }
        }
        trial.lines(0, 100e-9, 100e-9, 200e-9);
        Trial.Answer answer = trial.run();
        assertThat(answer.at(ReleaseProvider.EXPOSURE, 0)).isEqualTo(2);
        assertThat(answer.at(ReleaseProvider.EXPOSURE, 40)).isCloseTo(1, within(1e-12));
        assertThat(answer.at(ReleaseProvider.EXPOSURE, 3 * 9 + 4))
                .isCloseTo(1.375, within(1e-12)); // three of eight bare
        assertThat(answer.at(ReleaseProvider.EXPOSURE, 3 * 9 + 3))
                .isCloseTo(1.625, within(1e-12)); // five of eight bare
        assertThat(answer.field(ReleaseProvider.TEAR).known(1)).isFalse();
    }

    @Test
    void drift_between_stamp_and_substrate_grows_from_the_centre_until_features_touch() {
        Trial trial =
                bare(101, 1, 1e-6).given("release.mode", "pull").given("release.substrate-expansion", "0.5e-6 1/K");
        Trial.Answer answer =
                everywhere(trial, i -> trial.lines(i, 100e-9, 100e-9, 200e-9)).run();
        assertThat(answer.at(ReleaseProvider.BENDING, 50)).isZero();
        double offset = 2.1e-6 * 80 * 3e-6;
        assertThat(answer.at(ReleaseProvider.BENDING, 53))
                .isCloseTo(2 * 1.5 * 3e9 * 100e-9 * offset / (200e-9 * 200e-9) / STRENGTH, withinPercentage(1e-6));
        double gap = 0.005392 * 100e-9;
        assertThat(answer.at(ReleaseProvider.BENDING, 0))
                .isCloseTo(2 * 1.5 * 3e9 * 100e-9 * gap / (200e-9 * 200e-9) / STRENGTH, withinPercentage(1e-6));
        assertThat(answer.at(ReleaseProvider.FRICTION, 53)).isGreaterThan(answer.at(ReleaseProvider.FRICTION, 51));
        assertThat(answer.codes()).containsExactly("release.locked");
    }

    /** Worked: nickel on silicon, 10.8e-6/K over 80 K at 50 mm: 43.2 um of slip at the edge. */
    @Test
    void a_nickel_stamp_on_silicon_slips_by_tens_of_micrometres_at_its_edge() {
        Trial trial = bare(101, 1, 1e-3)
                .given("stamp.expansion", "13.4e-6 1/K")
                .given("film.expansion", "13.4e-6 1/K"); // no gap: the excess is the slip itself
        Trial.Answer answer = trial.lines(0, 100e-9, 100e-9, 200e-9).run();
        assertThat(answer.result().warnings().get(0).message()).contains("by up to 4.320e+04 nm");
    }

    @Test
    void the_front_takes_its_time_and_rests_under_a_lifted_rim() {
        Trial trial = bare(10, 10, 100e-6).given("release.peel-speed", "1 mm/s").given("release.lift", "1 um");
        Trial.Answer plain = trial.run();
        assertThat(plain.figure("peel.time")).isCloseTo(1, withinPercentage(1e-9));
        // no features: the work of adhesion alone; Rivlin at 90 deg over 1 mm of front
        assertThat(plain.figure("force.peel")).isCloseTo(53.9444158e-3 * 1e-3, withinPercentage(1e-6));
        assertThat(plain.figure("front.distance"))
                .isCloseTo(2.95696456e-3 * Math.pow(0.1 / 53.9444158e-3, 0.25), withinPercentage(1e-2));
    }

    /**
     * The contact shrinks evenly over the draw, so sliding out costs half the full pull times the depth; a front that peels at a right
     * angle pulls with all of the work per area (Rivlin; Kendall, J. Phys. D 8 (1975) 1449).
     */
    @Test
    void sliding_the_walls_out_costs_half_the_pull_times_the_depth() {
        double depth = 200e-9;
        Trial.Answer rough = lines(100e-9, depth).run();
        Trial.Answer smooth =
                lines(100e-9, depth).given("release.friction", "0 1").run();
        double pull = (rough.figure("force.pull") - smooth.figure("force.pull")) / (500e-6 * 500e-6);
        double peel = (rough.figure("force.peel") - smooth.figure("force.peel")) / 500e-6;
        assertThat(pull).isPositive();
        assertThat(peel).isCloseTo(pull * depth / 2, withinPercentage(1e-6));
        // and the work of adhesion on faces and walls, 2 of wall area per area here
        assertThat(smooth.figure("force.peel") / 500e-6).isCloseTo(53.9444158e-3 * 3, withinPercentage(1e-6));
    }

    @Test
    void it_can_be_stopped() {
        assertThatThrownBy(() -> lines(100e-9, 200e-9).cancelled().run()).isInstanceOf(CancelledException.class);
    }
}
