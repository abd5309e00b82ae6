package org.evenstamp.analysis.stamp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.function.DoubleBinaryOperator;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Closed forms of Kirchhoff's plate: cylinder, sphere, saddle. */
class PlateBendingTest {
    private static final double E = 130e9;
    private static final double NU = 0.28;
    private static final double T = 500e-6;
    private static final double KAPPA = 1e-3;

    private static PlateBending plate(int columns, int rows, DoubleBinaryOperator shape) {
        TileGrid grid = new TileGrid(0, 0, 250e-6, columns, rows);
        double[] values = new double[grid.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = shape.applyAsDouble(grid.centreXMetres(grid.column(i)), grid.centreYMetres(grid.row(i)));
        }
        return new PlateBending(Field.of(ImprintFields.STAMP_DEFLECTION, grid, values), E, NU, T);
    }

    @Test
    void a_cylinder_and_a_sphere_have_their_closed_forms_everywhere_up_to_the_rim() {
        PlateBending cylinder = plate(9, 7, (x, y) -> KAPPA * y * y / 2);
        PlateBending sphere = plate(9, 7, (x, y) -> KAPPA * (x * x + y * y) / 2);
        for (int i = 0; i < 63; i++) {
            assertThat(cylinder.stress(i)).isCloseTo(E * T * KAPPA / (2 * (1 - NU * NU)), withinPercentage(1e-4));
            assertThat(sphere.stress(i)).isCloseTo(E * T * KAPPA / (2 * (1 - NU)), withinPercentage(1e-4));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.3, 0.7853981633974483, 1.2})
    void a_turned_saddle_has_the_same_stress(double turn) {
        PlateBending saddle = plate(9, 9, (x, y) -> {
            double u = x * Math.cos(turn) + y * Math.sin(turn);
            double v = y * Math.cos(turn) - x * Math.sin(turn);
            return KAPPA * (u * u - v * v) / 2;
        });
        assertThat(saddle.stress(40)).isCloseTo(E * T * KAPPA / (2 * (1 + NU)), withinPercentage(1e-4));
    }

    @Test
    void a_tilted_stamp_is_not_bent() {
        assertThat(plate(9, 9, (x, y) -> 1e-3 * x - 2e-3 * y + 5e-6).stress(40)).isCloseTo(0, within(1e-3));
    }

    /**
     * Elastic slab under a ripple of pressure p with k t = pi: the deflection by the exact compliance of a free plate; a plate's
     * curvature over one tile would state far more than the half-space, where the face's stress is p itself.
     */
    @Test
    void a_ripple_shorter_than_the_plate_dents_it_and_does_not_bend_it() {
        double p = 1e6;
        double k = Math.PI / T;
        double a = Math.PI;
        double planeModulus = E / (1 - NU * NU);
        double compliance =
                2 / (planeModulus * k) * (Math.sinh(a) * Math.cosh(a) + a) / (Math.sinh(a) * Math.sinh(a) - a * a);
        // cell centres at (i + 1/2) of half a thickness: put a crest on one
        PlateBending ripple = plate(17, 17, (x, y) -> compliance * p * Math.cos(k * (x - 8.5 * 250e-6)));
        double naive = planeModulus * T / 2 * k * k * compliance * p;
        assertThat(naive / p).isGreaterThan(3);
        assertThat(ripple.stress(8 * 17 + 8) / p).isBetween(1.0, 1.7);
    }

    @Test
    void a_map_of_a_single_row_bends_along_it_and_a_small_one_is_blind() {
        assertThat(plate(9, 1, (x, y) -> KAPPA * x * x / 2).stress(4))
                .isCloseTo(E * T * KAPPA / (2 * (1 - NU * NU)), withinPercentage(1e-4));
        assertThat(plate(4, 4, (x, y) -> x * x).blind()).isTrue();
        assertThat(plate(4, 4, (x, y) -> x * x).stress(0)).isZero();
    }
}
