package org.evenstamp.analysis.dummy;

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
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RangeProgramTest {

    /**
     * Tiles .1 .4 .2 .6, slack .3 .1 .2 .0, windows of two tiles, none above .9: the emptiest window reaches 0.8 (computed with
     * an independent linear programming solver; forced by the second window, .6 + .1 + .1), and the range falls from .3 to .1.
     */
    @Test
    void reproduces_the_worked_fill_program() {
        Row window = new Row(4);
        double[] tiles = {0.1, 0.4, 0.2, 0.6};
        double[] slack = {0.3, 0.1, 0.2, 0};
        double[] base = new double[3];
        window.average(tiles, base);
        assertThat(Arrays.stream(base).map(b -> 2 * b).toArray())
                .usingComparatorWithPrecision(1e-12)
                .containsExactly(0.5, 0.6, 0.8);
        DummyTask task = DummyTask.of(window, base, new double[4], slack);
        // The ceiling is in averages, half the window sums; a small price keeps the fill from going beyond its purpose.
        DummyPlan plan = RangeProgram.below(0.45, 4, task, 1e-3).solve(1e-7, 200_000, FillTestMaps.stage());
        double[] sums = new double[3];
        window.average(plan.amounts(), sums);
        Arrays.setAll(sums, i -> 2 * (sums[i] + base[i]));
        assertThat(plan.report().converged()).isTrue();
        assertThat(Arrays.stream(sums).min().orElse(0)).isCloseTo(0.8, within(1e-6));
        assertThat(Arrays.stream(sums).max().orElse(0)).isCloseTo(0.9, within(1e-6));
        assertThat(plan.amounts()[1]).isCloseTo(0.1, within(1e-6));
        assertThat(plan.amounts()[2]).isCloseTo(0.1, within(1e-6));
        assertThat(plan.amounts()[3]).isZero();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void agrees_with_a_general_purpose_simplex_solver(long seed) {
        SplittableRandom dice = new SplittableRandom(seed);
        int columns = 6;
        int rows = 5;
        BoxWindow window = new BoxWindow(columns, rows, 2, seed % 2 == 0);
        double[] volume = dice.doubles((long) columns * rows).map(v -> v * 1e-7).toArray();
        double[] room = dice.doubles((long) columns * rows)
                .map(v -> v < 0.2 ? 0 : v * 6e-8)
                .toArray();
        DummyTask task = DummyTask.cavities(window, volume, room);
        double price = 0.02;
        ProgramReport report = RangeProgram.range(task, price)
                .solve(1e-6, 200_000, FillTestMaps.stage())
                .report();
        double exact = bySimplex(window, task.base, room, price, Double.NaN, 1);
        assertThat(report.converged()).isTrue();
        assertThat(report.primal()).isCloseTo(exact, within(1e-6 * report.start()));
        assertThat(report.dual()).isLessThanOrEqualTo(exact * (1 + 1e-9));

        double ceiling = Arrays.stream(task.base).max().orElse(0) * 1.02;
        ProgramReport below = RangeProgram.below(ceiling, 3, task, price)
                .solve(1e-6, 200_000, FillTestMaps.stage())
                .report();
        double exactBelow = bySimplex(window, task.base, room, price, ceiling, 3);
        assertThat(below.converged()).isTrue();
        assertThat(below.primal()).isCloseTo(exactBelow, within(1e-6 * report.start()));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void the_range_over_some_averages_agrees_with_a_general_purpose_simplex_solver(long seed) {
        SplittableRandom dice = new SplittableRandom(seed);
        int columns = 6;
        int rows = 5;
        BoxWindow window = new BoxWindow(columns, rows, 2, true);
        double[] volume = dice.doubles((long) columns * rows).map(v -> v * 1e-7).toArray();
        double[] room = dice.doubles((long) columns * rows)
                .map(v -> v < 0.2 ? 0 : v * 3e-8)
                .toArray();
        double[] weights =
                dice.doubles(window.windows()).map(v -> v < 0.6 ? 0 : v).toArray();
        weights[7] = 1;
        weights[23] = 0.5;
        DummyTask task = DummyTask.cavities(window, volume, room).weighted(weights);
        ProgramReport report = RangeProgram.range(task, 0.02)
                .solve(1e-6, 200_000, FillTestMaps.stage())
                .report();

        double exact = bySimplex(window, task.base, room, 0.02, Double.NaN, 1, weights);

        assertThat(report.converged()).isTrue();
        assertThat(report.primal()).isCloseTo(exact, within(1e-6 * report.start()));
        assertThat(report.dual()).isLessThanOrEqualTo(exact + 1e-9 * report.start());
    }

    private static double bySimplex(
            BoxWindow window, double[] base, double[] room, double price, double ceiling, double weight) {
        double[] all = new double[base.length];
        Arrays.fill(all, 1);
        return bySimplex(window, base, room, price, ceiling, weight, all);
    }

    /** Unknowns: amounts, smallest average, largest average; all in units of 100 nm, all non-negative here. */
    private static double bySimplex(
            BoxWindow window,
            double[] base,
            double[] room,
            double price,
            double ceiling,
            double weight,
            double[] weights) {
        double unit = 1e-7;
        int n = room.length;
        int windows = base.length;
        double[][] k = new double[n][windows];
        for (int j = 0; j < n; j++) {
            double[] one = new double[n];
            one[j] = 1;
            window.average(one, k[j]);
        }
        List<LinearConstraint> constraints = new ArrayList<>();
        for (int w = 0; w < windows; w++) {
            if (weights[w] == 0) {
                continue;
            }
            double[] row = new double[n + 2];
            for (int j = 0; j < n; j++) {
                row[j] = k[j][w];
            }
            double[] least = row.clone();
            least[n] = -1;
            constraints.add(new LinearConstraint(least, Relationship.GEQ, -base[w] / unit));
            double[] most = row.clone();
            most[n + 1] = -1;
            constraints.add(new LinearConstraint(most, Relationship.LEQ, -base[w] / unit));
        }
        for (int j = 0; j < n; j++) {
            double[] row = new double[n + 2];
            row[j] = 1;
            constraints.add(new LinearConstraint(row, Relationship.LEQ, room[j] / unit));
        }
        if (!Double.isNaN(ceiling)) {
            double[] row = new double[n + 2];
            row[n + 1] = 1;
            constraints.add(new LinearConstraint(row, Relationship.GEQ, ceiling / unit));
        }
        double[] objective = new double[n + 2];
        Arrays.fill(objective, 0, n, price / n);
        objective[n] = -1;
        objective[n + 1] = weight;
        return unit
                * new SimplexSolver()
                        .optimize(
                                new LinearObjectiveFunction(objective, 0),
                                new LinearConstraintSet(constraints),
                                GoalType.MINIMIZE,
                                new NonNegativeConstraint(true))
                        .getValue();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void more_room_never_gives_a_worse_optimum(long seed) {
        FillTestMaps map = new FillTestMaps(24, 20, seed);
        double last = Double.POSITIVE_INFINITY;
        for (double share : new double[] {0, 0.3, 0.6, 1, 1.4}) {
            double[] room = Arrays.stream(map.room).map(r -> r * share).toArray();
            ProgramReport report = RangeProgram.range(
                            DummyTask.cavities(new BoxWindow(24, 20, 4, false), map.volume, room), 0.01)
                    .solve(1e-4, 50_000, FillTestMaps.stage())
                    .report();
            assertThat(report.converged()).isTrue();
            assertThat(report.primal()).isLessThanOrEqualTo(last + 1e-4 * report.start());
            last = report.primal();
        }
    }

    @Test
    void an_even_layout_gets_no_dummies() {
        double[] volume = new double[400];
        Arrays.fill(volume, 0.3 * FillTestMaps.DEPTH);
        double[] room = new double[400];
        Arrays.fill(room, 0.5 * FillTestMaps.DEPTH);
        DummyPlan plan = RangeProgram.range(DummyTask.cavities(new BoxWindow(20, 20, 4, true), volume, room), 0.01)
                .solve(1e-3, 1000, FillTestMaps.stage());
        assertThat(plan.amounts()).containsOnly(0);
        assertThat(plan.report().iterations()).isZero();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void the_optimum_of_the_mirror_image_is_the_same(long seed) {
        FillTestMaps map = new FillTestMaps(24, 20, seed);
        ProgramReport here = RangeProgram.range(
                        DummyTask.cavities(new BoxWindow(24, 20, 3, true), map.volume, map.room), 0.01)
                .solve(1e-3, 20_000, FillTestMaps.stage())
                .report();
        ProgramReport there = RangeProgram.range(
                        DummyTask.cavities(
                                new BoxWindow(24, 20, 3, true),
                                FillTestMaps.mirrored(map.volume, 24),
                                FillTestMaps.mirrored(map.room, 24)),
                        0.01)
                .solve(1e-3, 20_000, FillTestMaps.stage())
                .report();
        assertThat(here.converged()).isTrue();
        assertThat(there.primal()).isCloseTo(here.primal(), within(1e-3 * here.start()));
    }

    @Test
    void a_ceiling_that_is_exceeded_already_is_refused_with_the_nearest_possible() {
        Row window = new Row(4);
        DummyTask task = DummyTask.cavities(window, new double[] {0.1, 0.4, 0.2, 0.6}, new double[4]);
        assertThatThrownBy(() -> RangeProgram.below(0.3, 4, task, 0))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("nearest ceiling that is possible is 0.4");
    }

    /** Windows of two neighbours on a line. */
    private record Row(int tiles) implements Window {
        @Override
        public int windows() {
            return tiles - 1;
        }

        @Override
        public void average(double[] amounts, double[] averages) {
            for (int i = 0; i < windows(); i++) {
                averages[i] = (amounts[i] + amounts[i + 1]) / 2;
            }
        }

        @Override
        public void spread(double[] weights, double[] amounts) {
            Arrays.fill(amounts, 0);
            for (int i = 0; i < windows(); i++) {
                amounts[i] += weights[i] / 2;
                amounts[i + 1] += weights[i] / 2;
            }
        }
    }
}
