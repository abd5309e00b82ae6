package org.evenstamp.analysis.stress;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class StressLawsTest {
    /** Oracle: the parabola with this wall rate, lifted by the slip, must carry the mean speed (Poiseuille). */
    @ParameterizedTest
    @ValueSource(doubles = {0, 10e-9, 1e-6})
    void the_slot_rate_belongs_to_the_parabola_with_the_mean_speed(double slip) {
        double width = 100e-9;
        double rate = WallShear.slot(2e-6, width, slip);
        assertThat(mean(false, y -> rate * slip + rate * width / 4 * (1 - y * y)))
                .isCloseTo(2e-6, within(1e-13));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 10e-9, 1e-6})
    void the_hole_rate_belongs_to_the_paraboloid_with_the_mean_speed(double slip) {
        double diameter = 100e-9;
        double rate = WallShear.hole(2e-6, diameter, slip);
        assertThat(mean(true, y -> rate * slip + rate * diameter / 4 * (1 - y * y)))
                .isCloseTo(2e-6, within(1e-13));
    }

    private static double mean(boolean round, java.util.function.DoubleUnaryOperator speed) {
        double sum = 0;
        double weight = 0;
        int cells = 20_000;
        for (int i = 0; i < cells; i++) {
            double y = (i + 0.5) / cells;
            sum += speed.applyAsDouble(y) * (round ? y : 1);
            weight += round ? y : 1;
        }
        return sum / weight;
    }

    /** Couette plus Poiseuille: walls that fall with the stamp, and film that rises by what the protrusions displace. */
    @Test
    void the_speed_against_the_wall_is_that_of_the_wall_and_of_the_displaced_film() {
        double sinking = 3e-9;
        double fraction = 0.3;
        double rising = sinking * (1 - fraction) / fraction;
        assertThat(WallShear.speed(sinking, fraction)).isCloseTo(sinking + rising, within(1e-22));
        assertThat(WallShear.speed(sinking, 1)).isEqualTo(sinking);
    }

    /** Mean wall shear f Re/2 U/D_h of rectangular ducts; f Re: R.K. Shah & A.L. London 1978, recomputed series. */
    @ParameterizedTest
    @CsvSource({"1, 14.2270769", "2, 15.5480561", "5, 19.0704979", "20, 22.4770131"})
    void the_cavity_rate_lies_above_the_rectangular_duct_by_a_fifth_at_most(double aspect, double frictionReynolds) {
        double hydraulic = 4 * aspect / (2 * (1 + aspect));
        double exact = frictionReynolds / 2 / hydraulic;
        double stated = WallShear.cavity(2 * (1 + aspect) / aspect, 1, 1, 0);
        assertThat(stated / exact).isBetween(1.0, 1.21);
    }

    @Test
    void a_wide_cavity_and_a_long_slip_leave_no_shear() {
        assertThat(WallShear.slot(1e-6, 1, 0)).isLessThan(1e-5);
        assertThat(WallShear.slot(1e-6, 100e-9, 1)).isCloseTo(1e-6, withinPercentage(1e-3));
        assertThat(WallShear.slot(1e-6, 100e-9, 1e-9)).isLessThan(WallShear.slot(1e-6, 100e-9, 0));
    }

    @Test
    void negative_speeds_and_lengths_are_refused() {
        assertThatThrownBy(() -> WallShear.speed(-1, 0.5)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> WallShear.speed(1, 0)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> WallShear.slot(1, 1, -1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> WallShear.slot(1, 0, 0)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Maxwell(0)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Maxwell(1).advance(-1, 0, 1)).isInstanceOf(IllegalArgumentException.class);
    }

    /** Start-up and relaxation of the textbook element, closed form. */
    @Test
    void the_element_starts_up_and_relaxes_exponentially() {
        double modulus = 2e5;
        double viscosity = 1e4;
        double lambda = viscosity / modulus;
        Maxwell element = new Maxwell(modulus);
        for (int i = 0; i < 100; i++) {
            element.advance(0.001, 3, viscosity);
        }
        double started = 3 * viscosity * (1 - Math.exp(-0.1 / lambda));
        assertThat(element.stress()).isCloseTo(started, withinPercentage(1e-10));
        element.advance(0.2, 0, viscosity);
        assertThat(element.stress()).isCloseTo(started * Math.exp(-0.2 / lambda), withinPercentage(1e-10));
    }

    @Test
    void slow_flow_is_newtonian_and_a_solid_is_elastic_and_keeps_its_stress() {
        Maxwell slow = new Maxwell(1e6);
        slow.advance(1000, 0.01, 1e4);
        assertThat(slow.stress()).isCloseTo(100, withinPercentage(1e-10));
        slow.advance(1e9, 0, Double.POSITIVE_INFINITY);
        assertThat(slow.stress()).isCloseTo(100, withinPercentage(1e-10));
        Maxwell solid = new Maxwell(1e6);
        solid.advance(2, 0.01, 1e20);
        assertThat(solid.stress()).isCloseTo(2e4, withinPercentage(1e-6));
    }

    /** Oracle: explicit Euler with tiny steps over a cooling history. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void large_steps_agree_with_tiny_ones_over_a_history(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double modulus = 1e5;
        Maxwell element = new Maxwell(modulus);
        double slow = 0;
        for (int step = 0; step < 20; step++) {
            double duration = random.nextDouble();
            double rate = random.nextDouble(-1, 1);
            double viscosity = modulus * Math.pow(10, random.nextDouble(-1, 3));
            element.advance(duration, rate, viscosity);
            int parts = 20_000;
            for (int k = 0; k < parts; k++) {
                slow += duration / parts * (modulus * rate - slow * modulus / viscosity);
            }
        }
        assertThat(element.stress()).isCloseTo(slow, within(1e-3 * modulus));
    }

    /** PMMA on silicon, 105 to 25 degC: strain 0.005392; E/(1-nu) eps with 3 GPa, 0.35: 24.8861538 MPa (derived, computed). */
    @Test
    void hindered_shrinking_gives_the_biaxial_stress() {
        double strain = (70e-6 - 2.6e-6) * 80;
        assertThat(strain).isCloseTo(0.00539200, within(1e-12));
        assertThat(BiaxialStress.biaxialStress(3e9, 0.35, strain)).isCloseTo(24.8861538e6, withinPercentage(1e-6));
    }

    /** Stoney 1909: 30 MPa in 300 nm on 525 um of silicon, M = 180.5 GPa: 0.00108542032 1/m (derived, computed). */
    @Test
    void a_stressed_film_bends_its_wafer_as_stoney_says() {
        assertThat(BiaxialStress.curvature(30e6, 300e-9, 180.5e9, 525e-6))
                .isCloseTo(0.00108542032, withinPercentage(1e-6));
    }
}
