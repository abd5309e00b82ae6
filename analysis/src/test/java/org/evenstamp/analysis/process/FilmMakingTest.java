package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Rows worked out in high precision from the formulae. */
class FilmMakingTest {
    private static final double SPEED = 3000 * 2 * Math.PI / 60;

    /** Emslie, Bonner and Peck, J. Appl. Phys. 29 (1958) 858: 1000 kg/m3, 3000 rpm, 10 mPa s, from 10 um. */
    @ParameterizedTest
    @CsvSource({"1,6.57106356", "10,2.65751951", "30,1.57176725", "60,1.11833573"})
    void spinning_thins_as_worked(double seconds, double micrometres) {
        assertThat(SpinCoating.thinnedMetres(10e-6, 1000, SPEED, 0.01, seconds))
                .isCloseTo(micrometres * 1e-6, withinPercentage(1e-4));
    }

    /** Meyerhofer, J. Appl. Phys. 49 (1978) 3993. */
    @Test
    void drying_takes_over_at_the_worked_thickness_and_scales_with_the_root_of_the_speed() {
        assertThat(SpinCoating.crossoverMetres(0.01, 1e-7, 1000, SPEED))
                .isCloseTo(2477.02565e-9, withinPercentage(1e-4));
        assertThat(SpinCoating.scaledMetres(300e-9, 2, 1)).isCloseTo(300e-9 * 0.707106781, withinPercentage(1e-4));
        assertThat(SpinCoating.scaledMetres(300e-9, 1, 8)).isCloseTo(600e-9, withinPercentage(1e-9));
    }

    @Test
    void scaling_from_a_measured_film_is_that_of_the_crossover_with_drying_as_the_root_of_the_speed() {
        double measured = SpinCoating.crossoverMetres(0.01, 1e-7, 1000, SPEED);
        double other = SpinCoating.crossoverMetres(0.02, 1e-7 * Math.sqrt(1.7), 1000, 1.7 * SPEED);

        assertThat(SpinCoating.scaledMetres(measured, 1.7, 2)).isCloseTo(other, withinPercentage(1e-9));
        assertThatThrownBy(() -> SpinCoating.scaledMetres(300e-9, 0, 1)).isInstanceOf(InputException.class);
    }

    /** A drop of 1 pL and 10 mPa s from 1 um to 50 nm. */
    @Test
    void drop_spreads_in_the_worked_times() {
        Drop drop = new Drop(1e-15, 0.01);

        assertThat(drop.secondsUnderForce(1e-3, 1e-6, 50e-9)).isCloseTo(0.190984738, withinPercentage(1e-4));
        assertThat(drop.secondsByCapillarity(new Capillarity(0.03, 0), 1e-6, 50e-9))
                .isCloseTo(0.0158757056, withinPercentage(1e-4));
        assertThat(drop.radiusMetres(50e-9)).isCloseTo(79.7884561e-6, withinPercentage(1e-4));
        assertThatThrownBy(() -> drop.secondsByCapillarity(new Capillarity(0.03, 2), 1e-6, 50e-9))
                .hasMessageContaining("wetting force");
    }

    /** Slow oracle: the force on a disc, 3 pi eta R^4 V/(2 h^3) (Stefan), stepped with a radius that grows as it is pressed. */
    @Test
    void drop_under_force_agrees_with_stepping_the_disc() {
        Drop drop = new Drop(1e-15, 0.01);
        double time = 0;
        int steps = 20000;
        double factor = Math.pow(50e-9 / 1e-6, 1.0 / steps);
        double gap = 1e-6;
        for (int i = 0; i < steps; i++) {
            double middle = gap * Math.sqrt(factor);
            double speed =
                    2 * 1e-3 * Math.pow(middle, 3) / (3 * Math.PI * 0.01 * Math.pow(drop.radiusMetres(middle), 4));
            time += gap * (1 - factor) / speed;
            gap *= factor;
        }

        assertThat(drop.secondsUnderForce(1e-3, 1e-6, 50e-9)).isCloseTo(time, withinPercentage(1e-3));
    }

    /** Laplace, Lucas and Washburn with 30 mN/m, 30 deg, 10 mPa s and 1 s. */
    @Test
    void capillary_pressure_and_filling_are_as_worked() {
        Capillarity liquid = new Capillarity(0.03, Math.toRadians(30));

        assertThat(liquid.slotPascals(100e-9)).isCloseTo(519615.242, withinPercentage(1e-4));
        assertThat(liquid.holePascals(100e-9)).isCloseTo(1039230.48, withinPercentage(1e-4));
        assertThat(liquid.tubeLengthMetres(50e-9, 0.01, 1)).isCloseTo(254.856637e-6, withinPercentage(1e-4));
        assertThat(liquid.slotLengthMetres(100e-9, 0.01, 1)).isCloseTo(294.283096e-6, withinPercentage(1e-4));
        Capillarity shy = new Capillarity(0.03, Math.toRadians(110));
        assertThat(shy.slotPascals(100e-9)).isNegative();
        assertThat(shy.slotLengthMetres(100e-9, 0.01, 1)).isZero();
        assertThatThrownBy(() -> new Capillarity(0.03, 4)).hasMessageContaining("0 deg to 180 deg");
    }

    /** Boyle and Henry; the Henry number and diffusivity are arithmetic examples, no material's data. */
    @Test
    void trapped_gas_shrinks_and_dissolves_as_worked() {
        double air = 101325;

        assertThat(TrappedGas.unfilledShare(air, air + 5e5)).isCloseTo(0.168502889, withinPercentage(1e-4));
        assertThat(TrappedGas.unfilledShare(air, air + 5e5 + new Capillarity(0.03, Math.PI / 6).slotPascals(100e-9)))
                .isCloseTo(0.0903928650, withinPercentage(1e-4));
        assertThat(TrappedGas.unfilledShare(air, air / 2)).isEqualTo(1);
        double full = TrappedGas.dissolvingPascals(100e-9, air, 0.05, 100e-9);
        assertThat(full).isCloseTo(2.02650e6, withinPercentage(1e-4));
        assertThat(TrappedGas.leftMetres(100e-9, air, full * 1.000001, 0.05, 100e-9))
                .isZero();
        assertThat(TrappedGas.leftMetres(100e-9, air, full / 2, 0.05, 100e-9)).isCloseTo(5e-9, withinPercentage(1e-6));
        assertThat(TrappedGas.diffusionSeconds(100e-9, 1e-11)).isCloseTo(1e-3, withinPercentage(1e-9));
        assertThatThrownBy(() -> TrappedGas.unfilledShare(air, 0)).isInstanceOf(InputException.class);
    }
}
