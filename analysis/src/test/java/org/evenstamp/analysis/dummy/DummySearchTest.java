package org.evenstamp.analysis.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.dummy.DummySearch.Step;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A convex toy stands in for the solve: its layer is what is left of the film over a wider average than the search believes in. */
class DummySearchTest {
    private static final ThreadTeam ALONE = new ThreadTeam(1);
    private static final int SIDE = 24;
    private static final double FILM = 300e-9;

    /** The toy: layer = film less gain times the averaged volume, in every tile. */
    private static final class Toy implements DummySearch.Truth<Solved> {
        final GaussianWindow average = new GaussianWindow(SIDE, SIDE, 2.2, true, ALONE);
        final double[] volume;
        final LayerGoal goal;
        final boolean slopes;

        Toy(double[] volume, LayerGoal goal, boolean slopes) {
            this.volume = volume;
            this.goal = goal;
            this.slopes = slopes;
        }

        double[] layer(double[] amounts) {
            double[] all = volume.clone();
            Arrays.setAll(all, i -> volume[i] + amounts[i]);
            double[] layer = new double[all.length];
            average.average(all, layer);
            Arrays.setAll(layer, i -> FILM - layer[i]);
            return layer;
        }

        @Override
        public Solved solve(double[] amounts) {
            double[] layer = layer(amounts);
            double[] back = new double[layer.length];
            average.spread(goal.slopes(layer), back);
            return new Solved(
                    amounts,
                    layer,
                    slopes ? Optional.of(Arrays.stream(back).map(s -> -s).toArray()) : Optional.empty());
        }
    }

    private static final class Solved implements DummySearch.Trial {
        private final double[] amounts;
        private final double[] layer;
        private final Optional<double[]> slopes;

        Solved(double[] amounts, double[] layer, Optional<double[]> slopes) {
            this.amounts = amounts;
            this.layer = layer;
            this.slopes = slopes;
        }

        @Override
        public double[] amounts() {
            return amounts.clone();
        }

        @Override
        public double[] layer() {
            return layer.clone();
        }

        @Override
        public Optional<double[]> slopes() {
            return slopes;
        }
    }

    private final GaussianWindow believed = new GaussianWindow(SIDE, SIDE, 0.8, true, ALONE);
    private final double[] weights = new double[SIDE * SIDE];

    private DummySearch search(FillTestMaps maps, LayerGoal goal, DummyPrices prices, double leastStep) {
        return new DummySearch(
                believed,
                new DummySearch.Task(goal, weights, new double[maps.room.length], maps.room, prices),
                FillTestMaps.stage(),
                leastStep);
    }

    private LayerGoal goal(LayerGoal.Measure measure) {
        Arrays.setAll(weights, i -> i % SIDE < SIDE / 2 ? 1 : 0.25); // the left half counts more
        return new LayerGoal(measure, weights);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void slopes_of_the_solve_lead_to_its_optimum_from_averages_that_are_wrong(long seed) {
        FillTestMaps maps = new FillTestMaps(SIDE, SIDE, seed);
        LayerGoal goal = goal(LayerGoal.Measure.SIGMA3);
        DummyPrices prices = new DummyPrices(0.02, 0.01);
        Toy toy = new Toy(maps.volume, goal, true);
        double[] without = toy.layer(new double[maps.volume.length]);
        double start = goal.value(without);

        List<Step<Solved>> steps = search(maps, goal, prices, 0).run(maps.volume, without, 60, toy);

        double[] base = new double[maps.volume.length];
        toy.average.average(maps.volume, base);
        DummyPlan known = new VarianceProgram(
                        DummyTask.of(toy.average, base, new double[base.length], maps.room)
                                .weighted(weights),
                        prices)
                .solve(1e-8, 50_000, FillTestMaps.stage());
        double optimum = known.report().primal();
        double found = steps.stream()
                .mapToDouble(step -> priced(step, prices, start))
                .min()
                .orElseThrow();
        assertThat(known.report().converged()).isTrue();
        assertThat(found).isGreaterThan(optimum * (1 - 1e-6));
        double first = priced(steps.get(0), prices, start);
        assertThat(found - optimum).isLessThan(0.01 * (first - optimum));
    }

    private static double priced(Step<Solved> step, DummyPrices prices, double start) {
        double sum = 0;
        double squares = 0;
        for (double amount : step.trial().amounts()) {
            sum += amount;
            squares += amount * amount;
        }
        return step.valueMetres() * step.valueMetres() / 18
                + (prices.area() * start / 3 * sum + prices.amount() * squares / 2) / (SIDE * SIDE);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void fewer_dummies_make_a_curve_that_falls_and_ends_where_more_do_not_pay(long seed) {
        FillTestMaps maps = new FillTestMaps(SIDE, SIDE, seed);
        LayerGoal goal = goal(LayerGoal.Measure.SIGMA3);
        DummySearch search = search(maps, goal, new DummyPrices(0.02, 0.01), 0.02);
        Toy toy = new Toy(maps.volume, goal, true);
        double[] without = toy.layer(new double[maps.volume.length]);
        double start = goal.value(without);
        List<Step<Solved>> steps = search.run(maps.volume, without, 6, toy);
        Step<Solved> best = DummySearch.curve(steps, start)
                .get(DummySearch.curve(steps, start).size() - 1);

        List<Step<Solved>> fewer = search.fewer(best, without, new double[] {0.6, 0.3, 0.1}, toy);

        assertThat(fewer).hasSize(3);
        List<Step<Solved>> all = new java.util.ArrayList<>(steps);
        all.addAll(fewer);
        List<Step<Solved>> curve = DummySearch.curve(all, start);
        for (int n = 0; n < 3; n++) {
            double share = new double[] {0.6, 0.3, 0.1}[n];
            assertThat(amount(fewer.get(n))).isBetween(0.0, share * amount(best) * (1 + 1e-9));
        }
        assertThat(curve).isSortedAccordingTo((a, b) -> Double.compare(amount(a), amount(b)));
        assertThat(curve).isSortedAccordingTo((a, b) -> Double.compare(b.valueMetres(), a.valueMetres()));
        assertThat(curve).hasSizeGreaterThan(2);
        // No step is better with as few dummies as a place of the curve.
        for (Step<Solved> place : curve) {
            assertThat(all)
                    .noneMatch(step ->
                            amount(step) <= amount(place) && step.valueMetres() < place.valueMetres() * (1 - 1e-12));
        }
        Step<Solved> paying = DummySearch.paying(curve, start);
        double least = curve.get(curve.size() - 1).valueMetres();
        assertThat(paying.valueMetres() - least).isLessThanOrEqualTo(0.01 * start);
        assertThat(curve)
                .noneMatch(step -> amount(step) < amount(paying) && step.valueMetres() <= least + 0.01 * start);
    }

    private static double amount(Step<Solved> step) {
        return Arrays.stream(step.trial().amounts()).map(Math::abs).sum();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void a_range_falls_by_slopes_of_the_solve(long seed) {
        FillTestMaps maps = new FillTestMaps(SIDE, SIDE, seed);
        LayerGoal goal = goal(LayerGoal.Measure.SPREAD);
        Toy toy = new Toy(maps.volume, goal, true);
        double[] without = toy.layer(new double[maps.volume.length]);

        List<Step<Solved>> steps =
                search(maps, goal, new DummyPrices(0.02, 0.01), 0.02).run(maps.volume, without, 8, toy);

        double best = steps.stream().mapToDouble(Step::valueMetres).min().orElseThrow();
        double[] base = new double[maps.volume.length];
        toy.average.average(maps.volume, base);
        double bound = RangeProgram.range(DummyTask.of(toy.average, base, new double[base.length], maps.room), 0.01)
                .solve(1e-3, 20_000, FillTestMaps.stage())
                .report()
                .dual();
        assertThat(best).isGreaterThan(bound - 0.02 * goal.value(without));
        assertThat(best).isLessThanOrEqualTo(steps.get(0).valueMetres());
        assertThat(steps.get(0).valueMetres())
                .isCloseTo(goal.value(toy.layer(steps.get(0).trial().amounts())), within(1e-18));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void without_slopes_the_averages_alone_are_taken_over(long seed) {
        FillTestMaps maps = new FillTestMaps(SIDE, SIDE, seed);
        LayerGoal goal = goal(LayerGoal.Measure.SIGMA3);
        Toy toy = new Toy(maps.volume, goal, false);
        double[] without = toy.layer(new double[maps.volume.length]);

        List<Step<Solved>> steps =
                search(maps, goal, new DummyPrices(0.02, 0.01), 0.02).run(maps.volume, without, 5, toy);

        assertThat(steps.get(0).valueMetres()).isLessThan(goal.value(without));
        assertThat(steps).hasSizeGreaterThan(1);
        assertThat(steps.get(steps.size() - 1).trial().slopes()).isEmpty();
    }
}
