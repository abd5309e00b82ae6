package org.evenstamp.analysis.stamp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Test;

/** Values derived (symbolically and numerically) for silicon of 525 um, E 130 GPa, nu 0.278: D = 1.69891623 N m. */
class ParticleStandOffTest {
    private static final double D = 1.69891623;

    @Test
    void the_stiffness_is_kirchhoffs() {
        assertThat(ParticleStandOff.stiffness(130e9, 0.278, 525e-6)).isCloseTo(D, withinPercentage(1e-2));
        assertThat(ParticleStandOff.stiffness(12, 0, 1)).isEqualTo(1);
    }

    @Test
    void a_particle_of_a_micrometre_takes_millimetres() {
        double radius = ParticleStandOff.radius(D, 1e-6, 1e5);
        assertThat(radius).isCloseTo(5.74232786e-3, withinPercentage(1e-6));
        assertThat(ParticleStandOff.radiusByAdhesion(D, 1e-6, 0.2)).isCloseTo(2.87116393e-3, withinPercentage(1e-6));
        double planeModulus = 12 * D / Math.pow(525e-6, 3);
        assertThat(ParticleStandOff.radiusOfTwoPlates(planeModulus, 525e-6, 1e-6, 0.1))
                .isCloseTo(3.41440857e-3, withinPercentage(1e-6));
        // coefficient 1.51967 of (E* t^3 H/p)^(1/4)
        assertThat(radius / Math.pow(12 * D * 1e-6 / 1e5, 0.25)).isCloseTo(1.51967, withinPercentage(1e-3));
    }

    @Test
    void a_ridge_takes_more_than_a_point_and_the_particle_carries_half_of_the_disc() {
        assertThat(ParticleStandOff.halfWidthOfRidge(D, 1e-6, 1e5) / ParticleStandOff.radius(D, 1e-6, 1e5))
                .isCloseTo(Math.pow(72.0 / 64, 0.25), withinPercentage(1e-9));
        assertThat(ParticleStandOff.force(2, 3)).isCloseTo(6 * Math.PI, withinPercentage(1e-12));
    }

    /** Oracle: {@code w = p R⁴/(64 D) (1 - s² + 2 s ln s), s = (r/R)²}, solves the plate's equation; it must meet the edge. */
    @Test
    void the_radius_belongs_to_a_shape_that_leaves_the_flat_smoothly() {
        double radius = ParticleStandOff.radius(D, 1e-6, 1e5);
        double step = radius * 1e-3;
        java.util.function.DoubleUnaryOperator shape = r -> {
            double s = r * r / (radius * radius);
            double quartic = 1e5 * Math.pow(radius, 4) / (64 * D);
            return quartic * (1 - s * s + 2 * s * Math.log(s));
        };
        assertThat(shape.applyAsDouble(1e-12)).isCloseTo(1e-6, withinPercentage(1e-6));
        assertThat(Math.abs(shape.applyAsDouble(radius))).isLessThan(1e-18);
        double slope = (shape.applyAsDouble(radius + step) - shape.applyAsDouble(radius - step)) / (2 * step);
        assertThat(Math.abs(slope) * radius).isLessThan(1e-5 * 1e-6);
        double bend = (shape.applyAsDouble(radius + step) + shape.applyAsDouble(radius - step)) / (step * step);
        assertThat(Math.abs(bend) * radius * radius).isLessThan(1e-2 * 1e-6);
    }

    /** Oracle: clamped plate under a load spread over b and the pressure against it, its equation integrated in small steps. */
    @Test
    void the_bending_stress_is_that_of_the_spread_load() {
        double nu = 0.278;
        double t = 525e-6;
        double p = 1e5;
        double radius = ParticleStandOff.radius(D, 1e-6, p);
        double b = 0.325 * t;
        double force = ParticleStandOff.force(radius, p);
        int cells = 1_000_000;
        double dr = radius / cells;
        double sum = 0; // integral of the shear force from 0 to r: D times the Laplacian less its value at the centre
        double mean = 0; // integral of r times that
        for (int i = 0; i < cells; i++) {
            double r = (i + 0.5) * dr;
            double inside = r < b ? force * r * r / (b * b) : force;
            double shear = (inside - p * Math.PI * r * r) / (2 * Math.PI * r);
            mean += r * (sum + shear * dr / 2) * dr;
            sum += shear * dr;
        }
        double centre = 2 * mean / (radius * radius); // no slope at the rim
        double moment = (1 + nu) * centre / 2;
        assertThat(ParticleStandOff.bendingStress(radius, p, t, nu))
                .isCloseTo(6 * moment / (t * t), withinPercentage(0.02));
    }

    @Test
    void exponents_are_three_quarters_of_thickness_and_a_quarter_of_height() {
        double thin = ParticleStandOff.stiffness(1, 0.3, 1);
        double thick = ParticleStandOff.stiffness(1, 0.3, 16);
        assertThat(ParticleStandOff.radius(thick, 1, 1) / ParticleStandOff.radius(thin, 1, 1))
                .isCloseTo(8, withinPercentage(1e-9));
        assertThat(ParticleStandOff.radius(1, 16, 1) / ParticleStandOff.radius(1, 1, 1))
                .isCloseTo(2, withinPercentage(1e-9));
        assertThat(ParticleStandOff.radiusByAdhesion(1, 4, 1) / ParticleStandOff.radiusByAdhesion(1, 1, 1))
                .isCloseTo(2, withinPercentage(1e-9));
    }
}
