package org.evenstamp.analysis.release;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Curve;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ReleaseLawsTest {
    /** Young-Dupre by hand, {@code 72.8 (1 + cos)}, for water at two angles. */
    @ParameterizedTest
    @CsvSource({"70.9, 96.6214630", "107.2, 51.2724540"})
    void adhesion_from_the_contact_angle(double degrees, double work) {
        assertThat(Adhesion.youngDupre(72.8, Math.toRadians(degrees))).isCloseTo(work, withinPercentage(1e-6));
    }

    /** Geometric mean by hand, {@code 2 sqrt(37.5 x 19.4)} and so on. */
    @ParameterizedTest
    @CsvSource({"37.5, 19.4, 53.9444158", "37.5, 20.1, 54.9090157", "41.1, 20.1, 57.4842587"})
    void adhesion_from_two_surface_energies(double one, double other, double work) {
        assertThat(Adhesion.geometricMean(one, other)).isCloseTo(work, withinPercentage(1e-6));
    }

    /** Derived: 3 MPa on walls of aspect 3: 18 MPa under a line, 36 MPa under a pillar; 70 MPa bears an aspect of 11.67. */
    @Test
    void shear_on_the_walls_pulls_at_the_foot() {
        assertThat(RootTension.line(3e6, 3, 1)).isCloseTo(18e6, within(1e-3));
        assertThat(RootTension.pillar(3e6, 3, 1)).isCloseTo(36e6, within(1e-3));
        assertThat(RootTension.lineAspectLimit(70e6, 3e6)).isCloseTo(11.6666667, withinPercentage(1e-6));
        assertThat(RootTension.line(3e6, 200e-9, 1)).isLessThan(2);
    }

    /** Derived: D = 1.69891623 N m, lift 1 um, 0.1 J/m2: the front rests at 2.95696456 mm. */
    @Test
    void the_front_rests_where_the_plates_energy_pays_the_work() {
        double distance = PeelFront.distance(1.69891623, 1e-6, 0.1);
        assertThat(distance).isCloseTo(2.95696456e-3, withinPercentage(1e-6));
        assertThat(PeelFront.energyReleaseRate(1.69891623, 1e-6, distance)).isCloseTo(0.1, withinPercentage(1e-9));
    }

    /** Two equal wafers: gamma = (3/8) E' t^3 y^2/L^4 each (Maszara 1988, from memory): two plates give 2 gamma. */
    @Test
    void two_plates_lifted_alike_give_maszaras_formula() {
        double planeModulus = 140e9;
        double t = 525e-6;
        double stiffness = planeModulus * t * t * t / 12;
        double both = 2 * PeelFront.energyReleaseRate(stiffness, 1e-6, 3e-3);
        assertThat(both / 2)
                .isCloseTo(0.375 * planeModulus * t * t * t * 1e-12 / Math.pow(3e-3, 4), withinPercentage(1e-9));
    }

    /** Rivlin: W at a right angle, half of it folded back. */
    @Test
    void a_sheet_peels_by_rivlins_force() {
        assertThat(PeelFront.force(0.1, Math.PI / 2)).isCloseTo(0.1, within(1e-12));
        assertThat(PeelFront.force(0.1, Math.PI)).isCloseTo(0.05, within(1e-12));
    }

    /** The plate behind the front is a parabola: at the height d its slope times d is the offset. */
    @Test
    void features_lean_by_the_slope_where_they_come_free() {
        double curvature = PeelFront.curvature(2, 0.1);
        assertThat(curvature * curvature * 2 / 2).isCloseTo(0.1, within(1e-12));
        double x = Math.sqrt(2 * 200e-9 / curvature);
        assertThat(PeelFront.tiltOffset(200e-9, curvature)).isCloseTo(200e-9 * curvature * x, withinPercentage(1e-9));
    }

    /** Shrink fit: limits of the Lame ring, and the ring solved again from displacements. */
    @ParameterizedTest
    @ValueSource(doubles = {0.05, 0.3, 0.7, 0.95})
    void film_grips_a_protrusion_as_a_lame_ring(double fraction) {
        double modulus = 3e9;
        double nu = 0.35;
        double strain = 5e-3;
        double p = Grip.ringPressure(modulus, nu, strain, fraction);
        double inner = 1;
        double outer = 1 / (1 - fraction); // squares of the radii
        // Lame: σ_r = A - B/r², σ_θ = A + B/r², σ_r(outer) = 0; u/r = (σ_θ - ν σ_r)/E = ε at the core
        double a = p * inner / (outer - inner);
        double b = a * outer;
        assertThat((a + b - nu * (a - b)) / modulus).isCloseTo(strain, withinPercentage(1e-9));
    }

    @Test
    void the_grip_has_its_limits() {
        assertThat(Grip.ringPressure(3e9, 0.35, 5e-3, 1)).isCloseTo(3e9 * 5e-3 / 1.35, withinPercentage(1e-9));
        assertThat(Grip.ringPressure(3e9, 0.35, 5e-3, 0)).isZero();
        assertThat(Grip.ringPressure(3e9, 0.35, 0, 0.5)).isZero();
        assertThat(Grip.ringPressure(3e9, 0.35, -5e-3, 0.5)).isPositive();
    }

    /** Beam theory: tip force F = 3 E I u/d³ with I = w³/12 per length; root stress F d/(w²/6). */
    @Test
    void a_leaning_feature_is_a_cantilever() {
        double force = 3 * 3e9 * Math.pow(100e-9, 3) / 12 * 1e-9 / Math.pow(300e-9, 3);
        assertThat(Grip.rootBending(3e9, 100e-9, 300e-9, 1e-9))
                .isCloseTo(force * 300e-9 / (1e-14 / 6), withinPercentage(1e-9));
        assertThat(Grip.leaningPressure(3e9, 100e-9, 300e-9, 1e-9)).isCloseTo(force / 300e-9, withinPercentage(1e-9));
        assertThat(Grip.leaningWidth(1, 200e-9)).isEqualTo(200e-9);
    }

    /** By hand: E u/4 = 0.75 N/m at 100 nm of height on a foot of 1 um: 6 x 0.75 x 100 nm/1 um² = 0.45 MPa; half as low, a quarter. */
    @Test
    void a_low_wide_feature_bears_the_less_the_lower_it_is() {
        assertThat(Grip.rootBending(3e9, 1e-6, 100e-9, 1e-9)).isCloseTo(0.45e6, withinPercentage(1e-9));
        double wholeGap = Grip.gap(5e-3, Grip.leaningWidth(1e-6, 100e-9));
        double halfGap = Grip.gap(5e-3, Grip.leaningWidth(1e-6, 50e-9));
        assertThat(Grip.rootBending(3e9, 1e-6, 50e-9, halfGap) / Grip.rootBending(3e9, 1e-6, 100e-9, wholeGap))
                .isCloseTo(0.25, withinPercentage(1e-9));
        assertThat(Grip.rootBending(3e9, 100e-9, 100e-9, 1e-9))
                .as("as wide as tall: the cantilever")
                .isCloseTo(45e6, withinPercentage(1e-9));
    }

    /**
     * Numbers by hand from the textbooks' forms (beam tables: {@code 3 E I u/L³}; Kendall, J. Phys. D 4 (1971) 1186, from memory: {@code
     * sqrt(2 E W/d)}; Landau and Lifshitz, Theory of Elasticity, 12, from memory: {@code W = D kappa²/2}; Lame's ring).
     */
    @Test
    void worked_numbers_of_each_law() {
        assertThat(Grip.rootBending(3e9, 100e-9, 300e-9, 1e-9)).isCloseTo(5.0e6, withinPercentage(1e-6));
        assertThat(Grip.leaningPressure(3e9, 100e-9, 300e-9, 1e-9)).isCloseTo(92592.5926, withinPercentage(1e-6));
        assertThat(Grip.ringPressure(3e9, 0.35, 5e-3, 0.3)).isCloseTo(2.49307479e6, withinPercentage(1e-6));
        assertThat(Adhesion.drawStress(0.05, 200e-9)).isCloseTo(0.5e6, withinPercentage(1e-6));
        assertThat(Adhesion.faceStress(0.05, 3e9, 200e-9)).isCloseTo(38.7298335e6, withinPercentage(1e-6));
        assertThat(PeelFront.curvature(1.69891623, 0.1)).isCloseTo(0.343107, withinPercentage(1e-3));
        assertThat(PeelFront.tiltOffset(200e-9, 0.343107)).isCloseTo(7.40925e-11, withinPercentage(1e-3));
    }

    /** Derived: a draw that takes shear on a wall that shrinks to nothing spends W on each part of the wall. */
    @Test
    void the_draw_spends_the_work_of_adhesion() {
        double stress = Adhesion.drawStress(0.05, 200e-9);
        assertThat(stress * 200e-9 / 2).isCloseTo(0.05, within(1e-12));
        double face = Adhesion.faceStress(0.05, 3e9, 200e-9);
        assertThat(face * face / (2 * 3e9) * 200e-9).isCloseTo(0.05, within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.4, 1.5707963267948966, 2.5, 3.141592653589793, -0.7})
    void the_front_spends_the_work_of_the_whole_map_in_any_direction(double direction) {
        TileGrid grid = new TileGrid(0, 0, 1e-3, 12, 7);
        double[] work = new double[grid.size()];
        double total = 0;
        for (int i = 0; i < work.length; i++) {
            work[i] = 0.1 + 0.01 * (i % 13);
            total += work[i] * 1e-6;
        }
        PeelForce peel = PeelForce.along(grid, work, direction, Math.PI / 2);
        Curve.Column force = peel.curve().columns().get(1);
        double spent = 0;
        double most = 0;
        for (int k = 0; k < force.length(); k++) {
            spent += force.at(k) * 1e-3;
            most = Math.max(most, force.at(k));
        }
        assertThat(spent).isCloseTo(total, withinPercentage(1e-9));
        assertThat(peel.most()).isEqualTo(most);
    }

    @Test
    void along_an_axis_the_front_feels_one_column_at_a_time() {
        TileGrid grid = new TileGrid(0, 0, 1e-3, 3, 2);
        double[] work = {1, 2, 3, 4, 5, 6};
        PeelForce peel = PeelForce.along(grid, work, Math.PI, Math.PI / 2);
        Curve.Column force = peel.curve().columns().get(1);
        assertThat(force.length()).isEqualTo(3);
        assertThat(force.at(0)).isCloseTo(9e-3, within(1e-12));
        assertThat(force.at(2)).isCloseTo(5e-3, within(1e-12));
        assertThat(peel.length()).isCloseTo(3e-3, within(1e-12));
    }
}
