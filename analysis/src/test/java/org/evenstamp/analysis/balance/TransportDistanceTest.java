package org.evenstamp.analysis.balance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.math3.optim.linear.LinearConstraint;
import org.apache.commons.math3.optim.linear.LinearConstraintSet;
import org.apache.commons.math3.optim.linear.LinearObjectiveFunction;
import org.apache.commons.math3.optim.linear.NonNegativeConstraint;
import org.apache.commons.math3.optim.linear.Relationship;
import org.apache.commons.math3.optim.linear.SimplexSolver;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TransportDistanceTest {
    private static final double PITCH = 25e-6;

    @Test
    void an_even_stamp_has_no_haul() {
        TransportDistance transport = transport(grid(5, 4), new double[20]);

        assertThat(transport.metresByTile()).containsOnly(Double.NaN);
        assertThat(transport.meanMetres()).isZero();
        assertThat(transport.movedCubicMetres()).isZero();
    }

    /** Two tiles serve one between them: each goes one pitch; by hand. */
    @Test
    void surplus_goes_to_the_neighbour_that_lacks_it() {
        TransportDistance transport = transport(grid(3, 1), new double[] {1e-8, -3e-8, 2e-8});

        assertThat(transport.metresByTile()[0]).isCloseTo(PITCH, within(1e-12 * PITCH));
        assertThat(transport.metresByTile()[1]).isNaN();
        assertThat(transport.metresByTile()[2]).isCloseTo(PITCH, within(1e-12 * PITCH));
        assertThat(transport.movedCubicMetres()).isCloseTo(3e-8 * PITCH * PITCH, within(1e-30));
    }

    /** On a line the optimum is the integral of |cumulative surplus| (S. S. Vallender, Theory Probab. Appl. 18 (1974) 784). */
    @ParameterizedTest
    @CsvSource({"1, 2", "2, 7", "3, 50", "4, 333", "5, 1000", "6, 1024"})
    void on_a_line_it_is_the_integral_of_the_cumulative_surplus(long seed, int columns) {
        double[] surplus = surplus(new SplittableRandom(seed), columns);
        double cumulative = 0;
        double cost = 0;
        double moved = 0;
        for (double s : surplus) {
            cumulative += s;
            cost += Math.abs(cumulative) * PITCH;
            moved += Math.max(s, 0);
        }

        TransportDistance transport = transport(grid(columns, 1), surplus);

        assertThat(transport.meanMetres()).isCloseTo(cost / moved, within(1e-9 * cost / moved));
        assertThat(transport.leastMetres()).isEqualTo(transport.meanMetres());
        assertThat(transport.mostMetres()).isEqualTo(transport.meanMetres());
        assertThat(transport(grid(1, columns), surplus).meanMetres())
                .as("a column is a row turned")
                .isCloseTo(cost / moved, within(1e-9 * cost / moved));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
    void in_the_plane_it_is_what_a_linear_program_finds(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = grid(2 + random.nextInt(3), 2 + random.nextInt(3));
        double[] surplus = surplus(random, grid.size());
        if (seed % 3 == 0) { // equal amounts: many equally good plans, empty ways in the tree
            for (int i = 0; i < surplus.length; i++) {
                surplus[i] = Math.signum(surplus[i]) * 1e-8;
            }
            surplus[0] -= Arrays.stream(surplus).sum();
        }

        TransportDistance transport = transport(grid, surplus);

        double moved = Arrays.stream(surplus).filter(s -> s > 0).sum();
        double optimum = linearProgram(grid, surplus, moved);
        assertThat(transport.meanMetres()).isCloseTo(optimum, within(1e-7 * optimum));
    }

    /** Chequered tiles: all go to a neighbour, though the blocks by which a large grid is done are even in themselves. */
    @Test
    void short_hauls_inside_the_blocks_of_a_large_grid_are_seen() {
        TileGrid grid = grid(256, 256);
        double[] surplus = new double[grid.size()];
        for (int i = 0; i < surplus.length; i++) {
            surplus[i] = (grid.column(i) + grid.row(i)) % 2 == 0 ? 1e-8 : -1e-8;
        }

        TransportDistance transport = transport(grid, surplus);

        assertThat(transport.meanMetres()).isCloseTo(PITCH, within(1e-9 * PITCH));
        assertThat(transport.leastMetres()).isCloseTo(PITCH, within(1e-9 * PITCH));
        assertThat(transport.mostMetres()).isCloseTo(PITCH, within(1e-9 * PITCH));
    }

    /** One half too thick, the other too thin: everything moves half the width; by symmetry. */
    @Test
    void long_hauls_across_a_large_grid_are_seen() {
        TileGrid grid = grid(256, 200);
        double[] surplus = new double[grid.size()];
        for (int i = 0; i < surplus.length; i++) {
            surplus[i] = grid.column(i) < 128 ? 1e-8 : -1e-8;
        }

        TransportDistance transport = transport(grid, surplus);

        assertThat(transport.meanMetres()).isCloseTo(128 * PITCH, within(1e-3 * 128 * PITCH));
        assertThat(transport.leastMetres()).isLessThanOrEqualTo(128 * PITCH);
        assertThat(transport.mostMetres()).isGreaterThanOrEqualTo(128 * PITCH);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void the_bounds_of_a_grid_done_in_steps_hold_the_exact_optimum(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = grid(20 + random.nextInt(12), 20 + random.nextInt(12));
        double[] surplus = seed % 2 == 0 ? surplus(random, grid.size()) : wavy(random, grid);

        double exact = transport(grid, surplus).meanMetres();
        TransportDistance steps = TransportDistance.of(grid, surplus, 16, new Progress());

        assertThat(steps.leastMetres()).isLessThanOrEqualTo(exact * (1 + 1e-12));
        assertThat(steps.mostMetres()).isGreaterThanOrEqualTo(exact * (1 - 1e-12));
        assertThat(steps.meanMetres()).isBetween(steps.leastMetres(), steps.mostMetres());
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void the_tiles_hauls_make_up_the_mean(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = grid(1 + random.nextInt(60), 1 + random.nextInt(60));
        double[] surplus = surplus(random, grid.size());

        TransportDistance transport = transport(grid, surplus);

        double cost = 0;
        double moved = 0;
        for (int i = 0; i < surplus.length; i++) {
            assertThat(Double.isNaN(transport.metresByTile()[i])).isEqualTo(!(surplus[i] > 0));
            if (surplus[i] > 0) {
                assertThat(transport.metresByTile()[i]).isGreaterThanOrEqualTo(PITCH * (1 - 1e-9));
                cost += surplus[i] * transport.metresByTile()[i];
                moved += surplus[i];
            }
        }
        if (moved > 0) {
            assertThat(transport.meanMetres()).isCloseTo(cost / moved, within(1e-9 * cost / moved));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void a_mirrored_turned_or_reversed_stamp_has_the_same_haul(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = grid(13, 9);
        double[] surplus = surplus(random, grid.size());
        double[] mirrored = new double[surplus.length];
        double[] turned = new double[surplus.length];
        double[] reversed = new double[surplus.length];
        for (int i = 0; i < surplus.length; i++) {
            mirrored[grid.index(12 - grid.column(i), grid.row(i))] = surplus[i];
            turned[grid.column(i) * 9 + 8 - grid.row(i)] = surplus[i];
            reversed[i] = -surplus[i];
        }
        double mean = transport(grid, surplus).meanMetres();

        assertThat(transport(grid, mirrored).meanMetres()).isCloseTo(mean, within(1e-9 * mean));
        assertThat(transport(grid(9, 13), turned).meanMetres()).isCloseTo(mean, within(1e-9 * mean));
        assertThat(transport(grid, reversed).meanMetres()).isCloseTo(mean, within(1e-9 * mean));
    }

    @Test
    void it_can_be_interrupted() {
        Progress progress = new Progress();
        progress.cancel();

        assertThatThrownBy(() -> TransportDistance.of(grid(2, 1), new double[] {1e-8, -1e-8}, progress))
                .isInstanceOf(CancelledException.class);
    }

    private static TransportDistance transport(TileGrid grid, double[] surplus) {
        return TransportDistance.of(grid, surplus, new Progress());
    }

    private static TileGrid grid(int columns, int rows) {
        return new TileGrid(0, 0, PITCH, columns, rows);
    }

    private static double[] surplus(SplittableRandom random, int size) {
        return centred(random.doubles(size).map(u -> u * 1e-7).toArray());
    }

    private static double[] wavy(SplittableRandom random, TileGrid grid) {
        double a = random.nextDouble(0.1, 0.5);
        double b = random.nextDouble(0.1, 0.5);
        double[] values = new double[grid.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = 1e-7 * Math.sin(a * grid.column(i)) * Math.cos(b * grid.row(i));
        }
        return centred(values);
    }

    private static double[] centred(double[] values) {
        double mean = Arrays.stream(values).average().orElseThrow();
        return Arrays.stream(values).map(v -> v - mean).toArray();
    }

    /** Mean transport by a general simplex method, one variable for every pair of tiles. */
    private static double linearProgram(TileGrid grid, double[] surplus, double moved) {
        int[] from = indices(surplus, 1);
        int[] to = indices(surplus, -1);
        double[] cost = new double[from.length * to.length];
        List<LinearConstraint> constraints = new ArrayList<>();
        for (int s = 0; s < from.length; s++) {
            double[] row = new double[cost.length];
            for (int t = 0; t < to.length; t++) {
                row[s * to.length + t] = 1;
                cost[s * to.length + t] =
                        Math.hypot(grid.column(from[s]) - grid.column(to[t]), grid.row(from[s]) - grid.row(to[t]));
            }
            constraints.add(new LinearConstraint(row, Relationship.EQ, surplus[from[s]] / moved));
        }
        for (int t = 0; t + 1 < to.length; t++) { // the last follows from the others
            double[] row = new double[cost.length];
            for (int s = 0; s < from.length; s++) {
                row[s * to.length + t] = 1;
            }
            constraints.add(new LinearConstraint(row, Relationship.EQ, -surplus[to[t]] / moved));
        }
        return PITCH
                * new SimplexSolver()
                        .optimize(
                                new LinearObjectiveFunction(cost, 0),
                                new LinearConstraintSet(constraints),
                                GoalType.MINIMIZE,
                                new NonNegativeConstraint(true))
                        .getValue();
    }

    private static int[] indices(double[] surplus, int sign) {
        return java.util.stream.IntStream.range(0, surplus.length)
                .filter(i -> surplus[i] * sign > 0)
                .toArray();
    }
}
