package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;

/** Rows worked out in high precision from the formulae. */
class FilmMakingTest {
    private static final double SPEED = 3000 * 2 * Math.PI / 60;

    /** Meyerhofer, J. Appl. Phys. 49 (1978) 3993: where drying overtakes throwing off, {@code (3 eta e/(2 rho w^2))^(1/3)}. */
    private static double crossover(double viscosity, double evaporation, double density, double speed) {
        return Math.cbrt(3 * viscosity * evaporation / (2 * density * speed * speed));
    }

    @Test
    void a_spun_film_scales_with_the_root_of_the_speed_and_the_cube_root_of_the_viscosity() {
        assertThat(SpinCoating.scaledMetres(300e-9, 2, 1)).isCloseTo(300e-9 * 0.707106781, withinPercentage(1e-4));
        assertThat(SpinCoating.scaledMetres(300e-9, 1, 8)).isCloseTo(600e-9, withinPercentage(1e-9));
        assertThatThrownBy(() -> SpinCoating.scaledMetres(300e-9, 0, 1)).isInstanceOf(InputException.class);
    }

    @Test
    void scaling_from_a_measured_film_is_that_of_the_crossover_with_drying_as_the_root_of_the_speed() {
        double measured = crossover(0.01, 1e-7, 1000, SPEED);
        double other = crossover(0.02, 1e-7 * Math.sqrt(1.7), 1000, 1.7 * SPEED);

        assertThat(SpinCoating.scaledMetres(measured, 1.7, 2)).isCloseTo(other, withinPercentage(1e-9));
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
}
