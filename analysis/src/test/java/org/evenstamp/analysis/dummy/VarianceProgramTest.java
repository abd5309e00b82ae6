package org.evenstamp.analysis.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class VarianceProgramTest {
    private static final ThreadTeam ALONE = new ThreadTeam(1);

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void finds_the_optimum_that_every_active_set_tried_out_finds(long seed) {
        SplittableRandom dice = new SplittableRandom(seed);
        int n = 8;
        BoxWindow window = new BoxWindow(4, 2, 2, true);
        double[] volume = dice.doubles(n).map(v -> v * 1e-7).toArray();
        double[] room = dice.doubles(n).map(v -> v < 0.2 ? 0 : v * 5e-8).toArray();
        double[] least = new double[n];
        if (seed % 2 == 0) {
            Arrays.setAll(least, i -> -dice.nextDouble() * 3e-8);
        }
        double[] base = new double[n];
        window.average(volume, base);
        DummyPrices prices = new DummyPrices(0.05, 0.02);
        DummyPlan plan = new VarianceProgram(DummyTask.of(window, base, least, room), prices)
                .solve(1e-10, 100_000, FillTestMaps.stage());
        double[] exact = byActiveSets(window, base, least, room, prices);
        assertThat(plan.report().converged()).isTrue();
        double value = objective(window, base, plan.amounts(), prices);
        assertThat(plan.report().primal()).isCloseTo(value, within(1e-12 * value));
        double best = objective(window, base, exact, prices);
        assertThat(value).isCloseTo(best, within(1e-9 * best));
        assertThat(plan.report().dual()).isLessThanOrEqualTo(best * (1 + 1e-12));
        for (int i = 0; i < n; i++) {
            assertThat(plan.amounts()[i]).isCloseTo(exact[i], within(1e-11));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void finds_the_optimum_of_a_weighted_variance_that_every_active_set_tried_out_finds(long seed) {
        SplittableRandom dice = new SplittableRandom(seed);
        int n = 8;
        BoxWindow window = new BoxWindow(4, 2, 2, true);
        double[] volume = dice.doubles(n).map(v -> v * 1e-7).toArray();
        double[] room = dice.doubles(n).map(v -> v < 0.2 ? 0 : v * 5e-8).toArray();
        double[] weights = dice.doubles(n).map(v -> v < 0.4 ? 0 : v * 5).toArray();
        weights[2] = 3;
        weights[5] = 1;
        double mean = Arrays.stream(weights).average().orElse(0);
        double[] scaled = Arrays.stream(weights).map(w -> w / mean).toArray();
        double[] base = new double[n];
        window.average(volume, base);
        DummyPrices prices = new DummyPrices(0.05, 0.02);
        DummyTask task = DummyTask.of(window, base, new double[n], room).weighted(weights);
        DummyPlan plan = new VarianceProgram(task, prices).solve(1e-10, 100_000, FillTestMaps.stage());

        double[] exact = byActiveSets(window, base, new double[n], room, prices, scaled);

        double best = objective(window, base, exact, prices, scaled);
        assertThat(plan.report().converged()).isTrue();
        assertThat(objective(window, base, plan.amounts(), prices, scaled)).isCloseTo(best, within(1e-9 * best));
        assertThat(plan.report().primal()).isCloseTo(best, within(1e-9 * best));
        for (int i = 0; i < n; i++) {
            assertThat(plan.amounts()[i]).isCloseTo(exact[i], within(1e-11));
        }
    }

    @Test
    void weights_that_are_negative_or_all_nothing_are_refused() {
        BoxWindow window = new BoxWindow(2, 2, 1, true);
        DummyTask task = DummyTask.cavities(window, new double[4], new double[4]);
        assertThatThrownBy(() -> task.weighted(new double[4])).isInstanceOf(InputException.class);
        assertThatThrownBy(() -> task.weighted(new double[] {2, -1, 1, 1})).isInstanceOf(InputException.class);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void bounds_the_optimum_from_below_and_meets_the_gap(long seed) {
        FillTestMaps map = new FillTestMaps(64, 48, seed);
        DummyTask task = DummyTask.cavities(new GaussianWindow(64, 48, 3, true, ALONE), map.volume, map.room);
        ProgramReport rough = new VarianceProgram(task, DummyPrices.STANDARD)
                .solve(1e-2, 1000, FillTestMaps.stage())
                .report();
        ProgramReport fine = new VarianceProgram(task, DummyPrices.STANDARD)
                .solve(1e-8, 5000, FillTestMaps.stage())
                .report();
        assertThat(rough.converged()).isTrue();
        assertThat(fine.converged()).isTrue();
        assertThat(fine.gap()).isBetween(0.0, 1e-8);
        assertThat(rough.dual()).isLessThanOrEqualTo(fine.primal());
        assertThat(fine.primal()).isLessThanOrEqualTo(rough.primal());
        assertThat(fine.primal()).isLessThan(0.5 * fine.start());
    }

    @Test
    void an_even_layout_gets_no_dummies() {
        double[] volume = new double[400];
        Arrays.fill(volume, 0.3 * FillTestMaps.DEPTH);
        double[] room = new double[400];
        Arrays.fill(room, 0.5 * FillTestMaps.DEPTH);
        DummyPlan plan = new VarianceProgram(
                        DummyTask.cavities(new GaussianWindow(20, 20, 1.5, false, ALONE), volume, room),
                        DummyPrices.STANDARD)
                .solve(1e-5, 1000, FillTestMaps.stage());
        assertThat(plan.amounts()).containsOnly(0);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void a_mirrored_layout_gets_mirrored_dummies(long seed) {
        FillTestMaps map = new FillTestMaps(30, 25, seed);
        boolean periodic = seed % 2 == 0;
        double[] here = solve(map.volume, map.room, periodic);
        double[] there = solve(FillTestMaps.mirrored(map.volume, 30), FillTestMaps.mirrored(map.room, 30), periodic);
        double[] back = FillTestMaps.mirrored(there, 30);
        for (int i = 0; i < here.length; i++) {
            assertThat(back[i]).isCloseTo(here[i], within(1e-3 * FillTestMaps.DEPTH));
        }
    }

    private static double[] solve(double[] volume, double[] room, boolean periodic) {
        return new VarianceProgram(
                        DummyTask.cavities(new GaussianWindow(30, 25, 2, periodic, ALONE), volume, room),
                        DummyPrices.STANDARD)
                .solve(1e-9, 20_000, FillTestMaps.stage())
                .amounts();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void more_room_never_gives_a_worse_optimum(long seed) {
        FillTestMaps map = new FillTestMaps(32, 32, seed);
        double last = Double.POSITIVE_INFINITY;
        for (double share : new double[] {0, 0.25, 0.5, 1, 1.5}) {
            double[] room = Arrays.stream(map.room).map(r -> r * share).toArray();
            ProgramReport report = new VarianceProgram(
                            DummyTask.cavities(new GaussianWindow(32, 32, 2, true, ALONE), map.volume, room),
                            DummyPrices.STANDARD)
                    .solve(1e-9, 20_000, FillTestMaps.stage())
                    .report();
            assertThat(report.primal()).isLessThanOrEqualTo(last * (1 + 1e-9));
            last = report.primal();
        }
    }

    @Test
    void one_and_two_threads_give_the_same_bits() {
        FillTestMaps map = new FillTestMaps(40, 40, 7);
        try (ThreadTeam pair = new ThreadTeam(2)) {
            double[] one = new VarianceProgram(
                            DummyTask.cavities(new GaussianWindow(40, 40, 2, true, ALONE), map.volume, map.room),
                            DummyPrices.STANDARD)
                    .solve(1e-6, 1000, FillTestMaps.stage())
                    .amounts();
            double[] two = new VarianceProgram(
                            DummyTask.cavities(new GaussianWindow(40, 40, 2, true, pair), map.volume, map.room),
                            DummyPrices.STANDARD)
                    .solve(1e-6, 1000, FillTestMaps.stage())
                    .amounts();
            assertThat(two).isEqualTo(one);
        }
    }

    @Test
    void says_so_when_the_budget_ends_first() {
        FillTestMaps map = new FillTestMaps(32, 32, 3);
        ProgramReport report = new VarianceProgram(
                        DummyTask.cavities(new GaussianWindow(32, 32, 4, true, ALONE), map.volume, map.room),
                        DummyPrices.STANDARD)
                .solve(1e-12, 3, FillTestMaps.stage())
                .report();
        assertThat(report.converged()).isFalse();
        assertThat(report.iterations()).isEqualTo(3);
        assertThat(report.gap()).isGreaterThan(1e-12);
        assertThat(report.dual()).isLessThan(report.primal());
    }

    @Test
    void refuses_numbers_that_are_none_and_names_the_nearest_range() {
        BoxWindow window = new BoxWindow(2, 2, 1, false);
        assertThatThrownBy(() -> DummyTask.cavities(window, new double[] {0, Double.NaN, 0, 0}, new double[4]))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("tile 1 is NaN");
        assertThatThrownBy(() -> DummyTask.of(window, new double[4], new double[4], new double[] {0, 0, -2e-9, 0}))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("tile 2")
                .hasMessageContaining("nearest range");
    }

    private static double[] even(int n) {
        double[] weights = new double[n];
        Arrays.fill(weights, 1);
        return weights;
    }

    private static double objective(Window window, double[] base, double[] x, DummyPrices prices) {
        return objective(window, base, x, prices, even(base.length));
    }

    private static double objective(Window window, double[] base, double[] x, DummyPrices prices, double[] weights) {
        double[] w = new double[base.length];
        window.average(x, w);
        double[] sum = new double[w.length];
        Arrays.setAll(sum, i -> w[i] + base[i]);
        double size = 0;
        double squares = 0;
        for (double amount : x) {
            size += Math.abs(amount) / x.length;
            squares += amount * amount / x.length;
        }
        return variance(sum, weights) / 2
                + prices.area() * Math.sqrt(variance(base, weights)) * size
                + prices.amount() * squares / 2;
    }

    /** The weights are 1 on the mean. */
    private static double mean(double[] values, double[] weights) {
        double mean = 0;
        for (int i = 0; i < values.length; i++) {
            mean += values[i] * weights[i] / values.length;
        }
        return mean;
    }

    private static double variance(double[] values, double[] weights) {
        double mean = mean(values, weights);
        double[] squares = new double[values.length];
        Arrays.setAll(squares, i -> (values[i] - mean) * (values[i] - mean));
        return mean(squares, weights);
    }

    private static double[] byActiveSets(
            BoxWindow window, double[] base, double[] least, double[] most, DummyPrices prices) {
        return byActiveSets(window, base, least, most, prices, even(base.length));
    }

    /** Tries every choice of "at least", "at most", "zero", "between zero and least" and "between zero and most". */
    private static double[] byActiveSets(
            BoxWindow window, double[] base, double[] least, double[] most, DummyPrices prices, double[] weights) {
        int n = base.length;
        RealMatrix k = new Array2DRowRealMatrix(n, n);
        for (int j = 0; j < n; j++) {
            double[] unit = new double[n];
            unit[j] = 1;
            double[] column = new double[n];
            window.average(unit, column);
            double mean = mean(column, weights);
            for (int i = 0; i < n; i++) {
                k.setEntry(i, j, Math.sqrt(weights[i]) * (column[i] - mean));
            }
        }
        RealMatrix hessian = k.transpose().multiply(k);
        double mean = mean(base, weights);
        double[] centred = new double[n];
        Arrays.setAll(centred, i -> Math.sqrt(weights[i]) * (base[i] - mean));
        double[] pull = k.transpose().operate(centred);
        double metre = prices.area() * Math.sqrt(variance(base, weights));
        for (int i = 0; i < n; i++) {
            hessian.addToEntry(i, i, prices.amount());
        }
        boolean negative = Arrays.stream(least).anyMatch(v -> v < 0);
        int choices = negative ? 5 : 3;
        double[] best = new double[n];
        double bestValue = Double.POSITIVE_INFINITY;
        for (int code = 0; code < Math.pow(choices, n); code++) {
            int[] state = new int[n];
            int rest = code;
            for (int i = 0; i < n; i++) {
                state[i] = rest % choices;
                rest /= choices;
            }
            double[] x = stationary(hessian, pull, metre, state, least, most);
            if (x.length == n) {
                double value = objective(window, base, x, prices, weights);
                if (value < bestValue) {
                    bestValue = value;
                    best = x;
                }
            }
        }
        return best;
    }

    private static double[] stationary(
            RealMatrix hessian, double[] pull, double metre, int[] state, double[] least, double[] most) {
        int n = state.length;
        int[] free = java.util.stream.IntStream.range(0, n)
                .filter(i -> state[i] == 2 || state[i] == 4)
                .toArray();
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = state[i] == 1 ? most[i] : state[i] == 3 ? least[i] : 0;
        }
        if (free.length > 0) {
            double[] right = new double[free.length];
            for (int a = 0; a < free.length; a++) {
                right[a] = -pull[free[a]] - (state[free[a]] == 2 ? metre : -metre);
                for (int j = 0; j < n; j++) {
                    right[a] -= hessian.getEntry(free[a], j) * x[j];
                }
            }
            double[] inner = new LUDecomposition(hessian.getSubMatrix(free, free))
                    .getSolver()
                    .solve(new ArrayRealVector(right))
                    .toArray();
            for (int a = 0; a < free.length; a++) {
                x[free[a]] = inner[a];
                boolean inside = state[free[a]] == 2
                        ? inner[a] >= 0 && inner[a] <= most[free[a]]
                        : inner[a] <= 0 && inner[a] >= least[free[a]];
                if (!inside) {
                    return new double[0];
                }
            }
        }
        return x;
    }
}
