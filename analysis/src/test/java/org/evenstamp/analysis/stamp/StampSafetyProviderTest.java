package org.evenstamp.analysis.stamp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.spi.Curve;
import org.junit.jupiter.api.Test;

class StampSafetyProviderTest {
    /** A silicon stamp of 525 um over 20 mm, flat. */
    private static Trial trial() {
        return new Trial(new StampSafetyProvider(), 40, 40, 500e-6)
                .everywhere(ImprintFields.STAMP_DEFLECTION, 0)
                .given("stamp.modulus", "130 GPa")
                .given("stamp.poisson", "0.278 1")
                .given("stamp.thickness", "525 um")
                .given("stamp.strength", "100 MPa")
                .given("process.pressure", "0.1 MPa");
    }

    private static Trial dusty(double height) {
        return trial().row("stamp.particles", Map.of("x", 10.1e-3, "y", 10.1e-3, "height", height));
    }

    @Test
    void a_flat_stamp_feels_contact_alone() {
        Trial.Answer answer =
                trial().everywhere(TileFields.CAVITY_FRACTION, 0.5).run();
        double edge = (1 - 2 * 0.278) / 3 * 0.2e6;
        assertThat(answer.at(StampSafetyProvider.BENDING, 0)).isZero();
        assertThat(answer.at(StampSafetyProvider.CONTACT, 0)).isCloseTo(edge, withinPercentage(1e-9));
        assertThat(answer.at(StampSafetyProvider.INDEX, 0)).isCloseTo(edge / 100e6, withinPercentage(1e-9));
        assertThat(answer.figure("margin")).isCloseTo(100e6 - edge, withinPercentage(1e-9));
        assertThat(answer.figure("unprinted.area")).isZero();
        assertThat(answer.result().curves()).isEmpty();
    }

    @Test
    void contact_peaks_follow_the_solved_pressure() {
        Trial.Answer answer = trial().everywhere(TileFields.CAVITY_FRACTION, 0.5)
                .everywhere(ImprintFields.PRESSURE_OPEN, 0.1e6)
                .tile(7, ImprintFields.PRESSURE_OPEN, 10e6)
                .run();
        assertThat(answer.at(StampSafetyProvider.CONTACT, 7) / answer.at(StampSafetyProvider.CONTACT, 8))
                .isCloseTo(100, withinPercentage(1e-9));
    }

    @Test
    void a_sliver_of_land_bears_no_more_than_brings_the_roof_down_on_the_film() {
        Trial.Answer answer = trial().given("stamp.modulus", "1 GPa")
                .given("process.pressure", "5 MPa")
                .lines(3, 495e-6, 5e-6, 200e-9)
                .run();
        double whole = (1 - 2 * 0.278) / 3 * 5e6 / 0.01;
        assertThat(answer.at(StampSafetyProvider.CONTACT, 3)).isLessThan(whole / 20);
        Trial.Answer stiff = trial().given("stamp.modulus", "130 GPa")
                .given("process.pressure", "5 MPa")
                .lines(3, 2e-6, 2e-6, 200e-9)
                .run();
        assertThat(stiff.at(StampSafetyProvider.CONTACT, 3))
                .isCloseTo((1 - 2 * 0.278) / 3 * 10e6, withinPercentage(1e-9));
    }

    @Test
    void the_tip_of_a_protrusion_carries_along_with_the_tiles_that_hold_the_rest_of_it() {
        Trial trial = trial().everywhere(TileFields.CAVITY_FRACTION, 1)
                .everywhere(ImprintFields.PRESSURE_OPEN, 0)
                .tile(7, TileFields.CAVITY_FRACTION, 1 - 1e-5)
                .tile(7, ImprintFields.PRESSURE_OPEN, 0.1e6);
        double edge = (1 - 2 * 0.278) / 3;
        // Alone it carries the tile.
        assertThat(trial.run().at(StampSafetyProvider.CONTACT, 7))
                .isCloseTo(edge * 0.1e6 / 1e-5, withinPercentage(1e-6));
        Trial.Answer wide = trial.tile(8, TileFields.CAVITY_FRACTION, 0.2)
                .tile(8, ImprintFields.PRESSURE_OPEN, 0.4e6)
                .run();
        assertThat(wide.at(StampSafetyProvider.CONTACT, 7)).isCloseTo(edge * 0.5e6 / 0.80001, withinPercentage(1e-6));
        assertThat(wide.at(StampSafetyProvider.CONTACT, 8)).isCloseTo(edge * 0.4e6 / 0.8, withinPercentage(1e-9));
    }

    @Test
    void a_tile_without_protrusions_has_no_contact() {
        Trial.Answer answer = trial().tile(3, TileFields.CAVITY_FRACTION, 1).run();
        assertThat(answer.field(StampSafetyProvider.CONTACT).known(3)).isFalse();
        assertThat(answer.field(StampSafetyProvider.INDEX).known(3)).isTrue();
    }

    /** Worked (derived): a particle of 1 um under 0.1 MPa holds off 5.742 mm of radius. */
    @Test
    void a_particle_takes_its_disc_from_the_print() {
        Trial.Answer answer = dusty(1e-6).run();
        double disc = Math.PI * 5.742e-3 * 5.742e-3;
        assertThat(answer.figure("unprinted.area")).isCloseTo(disc, withinPercentage(3));
        Curve.Column radius = answer.result().curves().get(0).columns().get(4);
        assertThat(radius.at(0)).isCloseTo(5.742e-3, withinPercentage(0.1));
        assertThat(answer.codes()).isEmpty();
        assertThat(answer.at(StampSafetyProvider.UNPRINTED, 20 * 40 + 20)).isEqualTo(1);
        assertThat(answer.at(StampSafetyProvider.UNPRINTED, 0)).isZero();
        assertThat(answer.at(StampSafetyProvider.INDEX, 20 * 40 + 20)).isCloseTo(0.346, within(0.002));
    }

    @Test
    void tiles_that_the_solve_never_pressed_are_lost_to_the_particles_that_lay_in_it() {
        Trial solved = trial().everywhere(ImprintFields.PRESSURE_PEAK, 1e5).tile(7, ImprintFields.PRESSURE_PEAK, 0);
        assertThat(solved.run().figure("unprinted.area")).isZero();
        Trial.Answer dusty = solved.row("process.particles", Map.of("x", 3.6e-3, "y", 0.2e-3, "height", 1e-6))
                .run();
        assertThat(dusty.at(StampSafetyProvider.UNPRINTED, 7)).isEqualTo(1);
        assertThat(dusty.figure("unprinted.area")).isCloseTo(500e-6 * 500e-6, withinPercentage(1e-6));
    }

    @Test
    void a_large_particle_breaks_the_stamp_and_says_where() {
        Trial.Answer answer = dusty(30e-6).run();
        assertThat(answer.codes()).containsExactly("stamp.particle-breaks");
        assertThat(answer.figure("margin")).isNegative();
        assertThat(answer.result().warnings().get(0).place()).isInstanceOf(Place.Tile.class);
    }

    @Test
    void a_tiny_particle_is_flagged_as_out_of_the_plates_range() {
        assertThat(dusty(1e-9).run().codes()).containsExactly("stamp.particle-range");
    }

    @Test
    void a_bent_stamp_is_judged_by_its_curvature() {
        Trial trial = trial();
        for (int i = 0; i < trial.grid().size(); i++) {
            double x = trial.grid().centreXMetres(trial.grid().column(i));
            trial.tile(i, ImprintFields.STAMP_DEFLECTION, 0.5 * x * x);
        }
        double stress = 130e9 * 525e-6 / (2 * (1 - 0.278 * 0.278));
        assertThat(trial.run().at(StampSafetyProvider.BENDING, 0)).isCloseTo(stress, withinPercentage(1e-6));
    }

    @Test
    void a_map_too_small_to_show_bending_says_so() {
        Trial.Answer answer = new Trial(new StampSafetyProvider(), 2, 2)
                .everywhere(ImprintFields.STAMP_DEFLECTION, 1e-6)
                .given("stamp.modulus", "130 GPa")
                .given("stamp.poisson", "0.278 1")
                .given("stamp.thickness", "525 um")
                .given("stamp.strength", "100 MPa")
                .given("process.pressure", "0.1 MPa")
                .run();
        assertThat(answer.codes()).containsExactly("stamp.bending-unseen");
    }

    @Test
    void particles_without_pressure_are_refused() {
        assertThatThrownBy(() -> dusty(1e-6).given("process.pressure", "0 MPa").run())
                .isInstanceOf(InputException.class)
                .hasMessageContaining("process.pressure");
    }

    @Test
    void it_can_be_stopped() {
        assertThatThrownBy(() -> trial().cancelled().run()).isInstanceOf(CancelledException.class);
    }
}
