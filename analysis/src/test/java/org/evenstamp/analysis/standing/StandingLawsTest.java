package org.evenstamp.analysis.standing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StandingLawsTest {
    private static final double PDMS = 2e6 / (1 - 0.25);

    /** Euler, fixed and free end (derived, computed): 3 GPa, 0.35, aspect 5; PDMS 2 MPa, aspect 2. */
    @Test
    void features_buckle_at_eulers_load() {
        assertThat(Buckling.line(3e9 / (1 - 0.35 * 0.35), 1, 5)).isCloseTo(28.1185311e6, withinPercentage(1e-6));
        assertThat(Buckling.roundPillar(3e9, 1, 5)).isCloseTo(18.5055083e6, withinPercentage(1e-6));
        assertThat(Buckling.line(PDMS, 1, 2)).isCloseTo(137.077839e3, withinPercentage(1e-6));
        // same formula as the line with E for E*: 28.1185311 (1 - 0.35^2)
        assertThat(Buckling.squarePillar(3e9, 1, 5)).isCloseTo(24.6740110e6, withinPercentage(1e-6));
    }

    /** From the energy release rate (derived, computed): PDMS lines of 1 um, gap 1 um, 20.1 mJ/m2: 2.65583436 um. */
    @Test
    void lines_pair_above_the_height_from_the_energy_balance() {
        assertThat(Pairing.criticalHeight(PDMS, 1e-6, 1e-6, 20.1e-3)).isCloseTo(2.65583436e-6, withinPercentage(1e-6));
    }

    /** Oracle: total energy of a pair that touches above the height l, minimised over l on a fine scan. */
    @Test
    void the_pairing_height_is_where_the_energy_is_least() {
        double move = 0.5e-6;
        double best = 0;
        double least = Double.POSITIVE_INFINITY;
        for (double l = 1e-6; l < 6e-6; l += 1e-10) {
            // two cantilevers of plane strain with zero slope at l: U = 2 * 6 D u^2/l^3, D = E* t^3/12; surface -2 γ (h
            // - l)
            double energy = PDMS * 1e-18 * move * move / Math.pow(l, 3) + 2 * 20.1e-3 * l;
            if (energy < least) {
                least = energy;
                best = l;
            }
        }
        assertThat(Pairing.criticalHeight(PDMS, 1e-6, 1e-6, 20.1e-3)).isCloseTo(best, within(2e-10));
    }

    /** Periodic crack array (derived): PDMS, 2w = 20 um, period 40 um, 50 kPa: 0.420824889 um; isolated 2 σ w/E*: 0.375 um. */
    @Test
    void a_roof_sags_as_a_row_of_cracks_opens() {
        assertThat(RoofSag.sag(50e3, 20e-6, 20e-6, PDMS)).isCloseTo(0.420824889e-6, withinPercentage(1e-6));
        assertThat(RoofSag.sag(50e3, 20e-6, 1, PDMS)).isCloseTo(0.375e-6, withinPercentage(1e-4));
    }

    @Test
    void the_touching_pressure_brings_the_roof_down_by_the_depth() {
        double pressure = RoofSag.touchingPressure(0.3e-6, 20e-6, 20e-6, PDMS, 1e-3);
        assertThat(RoofSag.sag(pressure, 20e-6, 20e-6, PDMS)).isCloseTo(0.3e-6, withinPercentage(1e-9));
        // a thin stamp holds a wide recess: as if its period were twice the thickness
        assertThat(RoofSag.touchingPressure(0.3e-6, 20e-6, 20e-6, PDMS, 5e-6))
                .isCloseTo(4 * pressure, withinPercentage(1e-9));
        assertThat(RoofSag.touchingPressure(0.3e-6, 0, 20e-6, PDMS, 1e-3)).isInfinite();
    }

    /** Orchard's table (derived, computed). */
    @ParameterizedTest
    @CsvSource({
        "0.1, 0.000654881776, 0.982322665",
        "0.5, 0.0575736284, 0.690883541",
        "1, 0.240581681, 0.360872522",
        "2, 0.641450034, 0.120271881",
        "3, 0.886720854, 0.0492622697",
        "5, 0.994486735, 0.0119338408"
    })
    void the_depth_factor_is_orchards(double q, double g, double overThin) {
        assertThat(Levelling.depth(q)).isCloseTo(g, withinPercentage(1e-6));
        assertThat(Levelling.depth(q) / (2 * q * q * q / 3)).isCloseTo(overThin, withinPercentage(1e-6));
    }

    @Test
    void the_depth_factor_has_its_marks_and_joins_its_limits() {
        double q = 0.235865260;
        assertThat(2 * q * q * q / 3 / Levelling.depth(q)).isCloseTo(1.1, withinPercentage(1e-5));
        assertThat(Levelling.depth(1.62136058)).isCloseTo(0.5, withinPercentage(1e-6));
        assertThat(Levelling.depth(0.9999999e-3)).isCloseTo(Levelling.depth(1.0000001e-3), withinPercentage(1e-3));
        assertThat(Levelling.depth(19.99)).isCloseTo(Levelling.depth(20.01), within(1e-12));
        assertThat(Levelling.depth(1e4)).isEqualTo(1);
    }

    /** Worked: 30 mN/m, 1e4 Pa s, 1 um, 200 nm: 3.28855881 1/s; thin form 12.4683637, deep 9.42477796 (derived, computed). */
    @Test
    void the_rate_lies_below_its_thin_and_deep_forms() {
        double rate = Levelling.rate(0.03, 1e4, 1e-6, 200e-9);
        assertThat(rate).isCloseTo(3.28855881, withinPercentage(1e-6));
        assertThat(1 / rate).isCloseTo(0.304084572, withinPercentage(1e-6));
        double k = 2 * Math.PI / 1e-6;
        double thin = 0.03 * Math.pow(k, 4) * Math.pow(200e-9, 3) / 3e4;
        assertThat(thin).isCloseTo(12.4683637, withinPercentage(1e-6));
        assertThat(Levelling.rate(0.03, 1e4, 1e-6, 1)).isCloseTo(9.42477796, withinPercentage(1e-6));
        assertThat(Levelling.rate(0.03, 1e4, 1e-6, 1e-10))
                .isCloseTo(0.03 * Math.pow(k, 4) * 1e-30 / 3e4, withinPercentage(1e-3));
    }
}
