package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.assertj.core.data.Percentage;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class FilmSolverTest {
    private static double[] uniform(int size, double value) {
        double[] map = new double[size];
        Arrays.fill(map, value);
        return map;
    }

    @Test
    void a_tile_alone_sinks_as_stefan_says_over_four_decades_of_time() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 1, 1);
        // Strip of 10 um, eta = 1e4 Pa s, 5 MPa, 200 nm: heights by Stefan's closed form (strip), evaluated.
        SolverInput input = SolverInput.of(grid, 200e-9, PressLoad.constant(1e4, 5e6, 1000))
                .relief(uniform(1, 1e-6), uniform(1, 0.5), uniform(1, 1e-10))
                .build();
        FilmRun run = FilmRun.of(input, 0.1, 1, 10, 100);
        assertThat(run.at(1)[0]).isCloseTo(169.030851e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(10)[0]).isCloseTo(89.4427191e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(100)[0]).isCloseTo(31.2347524e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(1000)[0]).isCloseTo(9.98752339e-9, Percentage.withPercentage(1e-5));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.2, 0.5, 0.8})
    void where_nothing_flows_between_tiles_the_volume_balance_is_the_end(double protrusions) {
        // h = h0 - (1 - f) d with h0 = 200 nm, d = 150 nm: 80, 125, 170 nm (volume balance).
        TileGrid grid = new TileGrid(0, 0, 1e-4, 4, 4);
        SolverInput input = SolverInput.of(grid, 200e-9, PressLoad.constant(1e4, 5e6, 300))
                .relief(uniform(16, (1 - protrusions) * 150e-9), uniform(16, 1 - protrusions), uniform(16, 1e-12))
                .stamp(new Stamp.Plate(130e9, 0.28, 525e-6), Surround.PERIODIC)
                .build();
        FilmRun run = FilmRun.of(input);
        for (int i = 0; i < 16; i++) {
            assertThat(run.gap[i]).isCloseTo((50 + 150 * protrusions) * 1e-9, within(1e-14));
            assertThat(run.full[i]).isTrue();
        }
    }

    @Test
    void a_thick_tile_bears_alone_until_the_stamp_has_come_down_to_the_thin_one() {
        // Stefan: t = η T/(2 q) (1/b² - 1/a²) from a = 300 to b = 200 nm; one of two equal tiles bears q = 2 p = 10
        // MPa.
        double alone = 1e4 * 1e-10 / (2 * 10e6) * (1 / (200e-9 * 200e-9) - 1 / (300e-9 * 300e-9));
        TileGrid grid = new TileGrid(0, 0, 1e-4, 2, 1);
        SolverInput input = SolverInput.of(grid, 250e-9, PressLoad.constant(1e4, 5e6, 2 * alone))
                .thickness(new double[] {300e-9, 200e-9})
                .relief(uniform(2, 1e-6), uniform(2, 0.5), uniform(2, 1e-10))
                .build();
        // Their gaps agree within Newton's tolerance.
        SolverOptions fine = SolverOptions.STANDARD.withTimeControl(1.05, 1e-3).withNewtonTolerance(4e-9);
        FilmRun run = FilmRun.of(input, fine, 1, 0.9 * alone, alone);
        assertThat(run.at(0.9 * alone)[0]).isGreaterThan(200e-9);
        assertThat(run.at(alone)[0]).isCloseTo(200e-9, within(0.2e-9));
        assertThat(run.filled[0]).isCloseTo(run.filled[1] + 100e-9, within(1e-15)); // each keeps its own film
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void what_was_coated_is_in_the_end_under_the_stamp_or_in_its_cavities(long seed) {
        int n = 12;
        double[] fraction = blocks(n, seed);
        SplittableRandom random = new SplittableRandom(seed);
        double[] coated = random.doubles((long) n * n, 200e-9, 320e-9).toArray();
        double[] volume = Arrays.stream(fraction).map(f -> f * 150e-9).toArray();
        double[] moment =
                Arrays.stream(fraction).map(f -> Math.pow(1 - f, 3) * 4e-10).toArray();
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-3, n, n), 260e-9, PressLoad.constant(1e3, 5e6, 300))
                .thickness(coated)
                .relief(volume, fraction, moment)
                .stamp(new Stamp.HalfSpace(1e6, 0.49), Surround.PERIODIC)
                .build();
        FilmRun run = FilmRun.of(input);
        double sum = 0;
        for (int i = 0; i < coated.length; i++) {
            assertThat(run.full[i]).isTrue();
            sum += run.gap[i] + run.filled[i];
        }
        assertThat(sum / coated.length).isCloseTo(FilmRun.mean(coated), within(1e-15));
    }

    @Test
    void where_a_particle_holds_the_stamp_off_the_residual_layer_is_the_film_and_not_the_gap() {
        int n = 16;
        double[] particle = new double[n * n];
        particle[n * n / 2 + n / 2] = 1e-6;
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, n, n), 100e-9, PressLoad.constant(1e4, 1e5, 1))
                .stamp(SILICON, Surround.PERIODIC)
                .particles(particle)
                .build();
        FilmHistory history = new FilmHistory(input, FilmSnapshots.at(new double[0]), java.util.OptionalDouble.empty());
        try (ThreadTeam team = new ThreadTeam(1)) {
            new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(new double[0], history, new Progress().stage("film", 0, ""));
        }
        assertThat(FilmRun.mean(history.residual())).isCloseTo(100e-9, within(1e-15));
        assertThat(Arrays.stream(history.residual()).max().orElseThrow()).isLessThan(1e-6);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.001, 0.01, 0.1})
    void menisci_alone_press_a_stamp_as_hard_as_they_pull_on_its_land(double pascalSeconds) {
        // Film at -pc under the land, nothing under the roofs: the land comes down as under (1 - share) pc from above.
        TileGrid grid = new TileGrid(0, 0, 1e-4, 1, 1);
        double pc = 2e5;
        double[] moment = uniform(1, 1e-10);
        double time = 2e-3 * pascalSeconds;
        SolverInput sucked = SolverInput.of(grid, 200e-9, PressLoad.constant(pascalSeconds, 0, time))
                .relief(uniform(1, 150e-9), uniform(1, 0.4), moment)
                .capillaryPressure(uniform(1, pc))
                .build();
        SolverInput pressed = SolverInput.of(grid, 200e-9, PressLoad.constant(pascalSeconds, 0.6 * pc, time))
                .relief(uniform(1, 150e-9), uniform(1, 0.4), moment)
                .build();
        FilmRun run = FilmRun.of(sucked);
        assertThat(run.report.complete()).isTrue();
        assertThat(run.full[0]).isFalse();
        assertThat(run.gap[0])
                .isLessThan(190e-9)
                .isCloseTo(FilmRun.of(pressed).gap[0], Percentage.withPercentage(1e-6));
    }

    @ParameterizedTest
    @CsvSource({"0.001, 0", "0.1, 0", "0.001, 1e5", "0.1, 1e5"})
    void an_unloaded_stamp_on_a_liquid_is_solved_to_the_end(double pascalSeconds, double gas) {
        int n = 24;
        double[] fraction = blocks(n, 3);
        SolverInput input = SolverInput.of(
                        new TileGrid(0, 0, 1e-4, n, n), 150e-9, PressLoad.constant(pascalSeconds, 0, 60))
                .relief(
                        Arrays.stream(fraction).map(f -> f * 150e-9).toArray(),
                        fraction,
                        Arrays.stream(fraction).map(f -> 4e-10 * (1 - f)).toArray())
                .stamp(SILICON, Surround.ISOLATED)
                .capillaryPressure(uniform(n * n, 3e5))
                .gas(gas, 0)
                .build();
        FilmRun run = FilmRun.of(input);
        assertThat(run.report.complete()).isTrue();
        assertThat(FilmRun.mean(run.gap)).isLessThan(149e-9);
    }

    @Test
    void under_a_roof_that_hangs_low_no_residual_layer_is_left_and_no_film_is_lost() {
        int n = 16;
        double[] fraction = uniform(n * n, 0.1);
        for (int i = 0; i < fraction.length; i++) {
            boolean pocket = i % n >= 4 && i % n < 12 && i / n >= 4 && i / n < 12;
            fraction[i] = pocket ? 1 : 0.1;
        }
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-3, n, n), 60e-9, PressLoad.constant(1e3, 5e5, 300))
                .relief(
                        Arrays.stream(fraction).map(f -> f * 150e-9).toArray(),
                        fraction,
                        Arrays.stream(fraction).map(f -> 4e-10 * (1 - f)).toArray())
                .stamp(new Stamp.HalfSpace(1e6, 0.49), Surround.PERIODIC)
                .build();
        FilmHistory history = new FilmHistory(input, FilmSnapshots.at(new double[0]), java.util.OptionalDouble.empty());
        double[] lowest = {1};
        try (ThreadTeam team = new ThreadTeam(1)) {
            new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(
                            new double[0],
                            state -> {
                                history.accepted(state);
                                lowest[0] =
                                        Arrays.stream(state.residual()).min().orElseThrow();
                            },
                            new Progress().stage("film", 0, ""));
        }
        assertThat(lowest[0]).as("gap below a level roof").isNegative();
        assertThat(Arrays.stream(history.residual()).min().orElseThrow()).isZero();
        assertThat(FilmRun.mean(history.residual()) + FilmRun.mean(history.filled()))
                .isCloseTo(60e-9, within(1e-15));
    }

    /** Rests on the film for 10 s, presses at half and at full pressure, lets go, and presses again. */
    private record Pausing(double pascalSeconds, double pascal) implements PressLoad {
        @Override
        public double endSeconds() {
            return 300;
        }

        @Override
        public double viscosityPascalSeconds(double seconds) {
            return pascalSeconds;
        }

        @Override
        public void pressurePascal(double seconds, double[] into) {
            boolean off = seconds <= 10 || (seconds > 100 && seconds <= 200);
            Arrays.fill(into, off ? 0 : seconds <= 30 ? pascal / 2 : pascal);
        }

        @Override
        public double[] breaks() {
            return new double[] {10, 30, 100, 200};
        }
    }

    @ParameterizedTest
    @CsvSource({"10, 5e6", "1e3, 1e4", "1e6, 5e6", "1e9, 1e4"})
    void a_stiff_stamp_on_a_rough_film_is_solved_through_pauses_without_pressure(double pascalSeconds, double pascal) {
        int n = 24;
        SplittableRandom random = new SplittableRandom(7);
        double[] fraction = blocks(n, 2);
        double[] rough = new double[n * n];
        for (int i = 0; i < rough.length; i++) {
            double slope = 150 * (i % n / (n - 1.0) - 0.5);
            rough[i] = (250 + slope + random.nextDouble(-20, 20)) * 1e-9;
        }
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 50e-6, n, n), 250e-9, new Pausing(pascalSeconds, pascal))
                .thickness(rough)
                .relief(
                        Arrays.stream(fraction).map(f -> f * 150e-9).toArray(),
                        fraction,
                        Arrays.stream(fraction).map(f -> 4e-10 * (1 - f)).toArray())
                .stamp(SILICON, Surround.ISOLATED)
                .build();
        FilmRun run = FilmRun.of(input);
        assertThat(run.report.complete()).isTrue();
        assertThat(run.report.newtonSteps()).isLessThan(6 * run.report.steps());
        assertThat(run.at(10)).as("an unpressed film stays").containsExactly(run.at(0));
        assertThat(FilmRun.mean(run.at(30))).isLessThan(FilmRun.mean(run.at(10)));
    }

    /** A map of random blocks; the same blocks at any size. */
    private static double[] blocks(int n, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] fraction = uniform(n * n, 0.1);
        for (int block = 0; block < 20; block++) {
            double x = random.nextDouble();
            double y = random.nextDouble();
            double width = 0.05 + 0.3 * random.nextDouble();
            double height = 0.05 + 0.3 * random.nextDouble();
            double share = 0.05 + 0.8 * random.nextDouble();
            for (int i = 0; i < n * n; i++) {
                double u = (i % n + 0.5) / n - x;
                int row = i / n;
                double v = (row + 0.5) / n - y;
                if (u >= 0 && u < width && v >= 0 && v < height) {
                    fraction[i] = share;
                }
            }
        }
        return fraction;
    }

    private static SolverInput input(int n, double[] fraction, Stamp stamp, Surround surround, PressLoad load) {
        TileGrid grid = new TileGrid(0, 0, 10e-3 / n, n, n);
        double[] volume = Arrays.stream(fraction).map(f -> f * 150e-9).toArray();
        double[] moment =
                Arrays.stream(fraction).map(f -> Math.pow(1 - f, 3) * 4e-10).toArray();
        return SolverInput.of(grid, 300e-9, load)
                .relief(volume, fraction, moment)
                .stamp(stamp, surround)
                .freeTilt()
                .build();
    }

    private static final Stamp SILICON = new Stamp.Plate(130e9, 0.28, 525e-6);
    private static final Stamp ELASTOMER = new Stamp.BondedLayer(2e6, 0.49, 100e-6);

    private static double sigma3(double[] values) {
        double mean = FilmRun.mean(values);
        return 3
                * Math.sqrt(Arrays.stream(values)
                        .map(v -> (v - mean) * (v - mean))
                        .average()
                        .orElseThrow());
    }

    static Stream<Arguments> loads() {
        return Stream.of(1L, 2L, 3L)
                .flatMap(seed -> Stream.of(
                        Arguments.of(seed, SILICON, Surround.PERIODIC, PressLoad.constant(1e4, 5e6, 5)),
                        Arguments.of(seed, SILICON, Surround.ISOLATED, PressLoad.constant(1e4, 5e6, 5)),
                        Arguments.of(seed, SILICON, Surround.PERIODIC, PressLoad.constant(1e-2, 1e5, 1)),
                        Arguments.of(seed, ELASTOMER, Surround.PERIODIC, PressLoad.constant(1e-2, 1e5, 1)),
                        Arguments.of(seed, ELASTOMER, Surround.ISOLATED, PressLoad.constant(1e6, 1e5, 100))));
    }

    @ParameterizedTest
    @MethodSource("loads")
    void mirroring_and_turning_the_map_mirrors_and_turns_the_result(
            long seed, Stamp stamp, Surround surround, PressLoad load) {
        int n = 18;
        double[] fraction = blocks(n, seed);
        double[] turned = new double[n * n];
        for (int i = 0; i < n * n; i++) {
            turned[(i % n) * n + n - 1 - i / n] = fraction[i];
        }
        FilmRun straight = FilmRun.of(input(n, fraction, stamp, surround, load));
        FilmRun other = FilmRun.of(input(n, turned, stamp, surround, load));
        for (int i = 0; i < n * n; i++) {
            assertThat(other.gap[(i % n) * n + n - 1 - i / n]).isCloseTo(straight.gap[i], within(3e-11));
        }
    }

    @ParameterizedTest
    @MethodSource("loads")
    void the_force_balances_and_the_film_stays_under_the_stamp(
            long seed, Stamp stamp, Surround surround, PressLoad load) {
        FilmRun run = FilmRun.of(input(20, blocks(20, seed), stamp, surround, load));
        double[] wanted = new double[400];
        load.pressurePascal(0, wanted);
        assertThat(run.report.complete()).isTrue();
        assertThat(FilmRun.mean(run.pressure)).isCloseTo(wanted[0], within(2e-6 * wanted[0]));
        double film = 0;
        for (int i = 0; i < 400; i++) {
            film += (run.gap[i] + run.filled[i]) / 400;
        }
        assertThat(film).isCloseTo(300e-9, within(1e-13));
    }

    @Test
    void two_threads_give_the_same_bits_as_one() {
        SolverInput input = input(30, blocks(30, 4), SILICON, Surround.PERIODIC, PressLoad.constant(1e4, 5e6, 5));
        FilmRun one = FilmRun.of(input, SolverOptions.STANDARD, 1);
        FilmRun two = FilmRun.of(input, SolverOptions.STANDARD, 2);
        assertThat(two.gap).isEqualTo(one.gap);
        assertThat(two.pressure).isEqualTo(one.pressure);
        assertThat(two.report).isEqualTo(one.report);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2})
    void finer_time_steps_approach_one_result(long seed) {
        SolverInput input = input(24, blocks(24, seed), SILICON, Surround.PERIODIC, PressLoad.constant(1e4, 5e6, 2));
        double[] coarse = FilmRun.of(input, SolverOptions.STANDARD.withTimeControl(1.5, 0.02), 1).gap;
        double[] middle = FilmRun.of(input, SolverOptions.STANDARD.withTimeControl(1.2, 0.002), 1).gap;
        double[] fine = FilmRun.of(input, SolverOptions.STANDARD.withTimeControl(1.1, 0.0005), 1).gap;
        double far = 0;
        double near = 0;
        for (int i = 0; i < fine.length; i++) {
            far = Math.max(far, Math.abs(coarse[i] - fine[i]));
            near = Math.max(near, Math.abs(middle[i] - fine[i]));
        }
        assertThat(near).isLessThan(0.6 * far);
        assertThat(far).isLessThan(3e-9);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2})
    void finer_tiles_approach_one_result(long seed) {
        double[] spread = new double[3];
        for (int level = 0; level < 3; level++) {
            int n = 16 << level;
            // The blocks of the coarsest map, so that all three describe the same stamp.
            double[] coarse = blocks(16, seed);
            double[] fraction = new double[n * n];
            for (int i = 0; i < n * n; i++) {
                fraction[i] = coarse[((i / n) >> level) * 16 + ((i % n) >> level)];
            }
            spread[level] = sigma3(
                    FilmRun.of(input(n, fraction, SILICON, Surround.PERIODIC, PressLoad.constant(1e4, 5e6, 2))).gap);
        }
        assertThat(Math.abs(spread[2] - spread[1])).isLessThan(Math.abs(spread[1] - spread[0]));
        assertThat(spread[2] / spread[1]).isCloseTo(1, within(0.05));
    }

    @Test
    void a_stiffer_stamp_levels_the_residual_layer() {
        double[] fraction = blocks(20, 6);
        double last = 0;
        for (double thickness : new double[] {1e-3, 5e-4, 2e-4}) {
            Stamp stamp = new Stamp.Plate(130e9, 0.28, thickness);
            double spread = sigma3(
                    FilmRun.of(input(20, fraction, stamp, Surround.PERIODIC, PressLoad.constant(1e4, 5e6, 20))).gap);
            assertThat(spread).isGreaterThan(last);
            last = spread;
        }
    }

    @Test
    void a_held_wedge_tilts_the_residual_layer_and_a_free_stamp_turns_it_back() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 20, 20);
        double[] half = uniform(400, 0.5);
        SolverInput.Builder held = SolverInput.of(grid, 300e-9, PressLoad.constant(1e4, 5e6, 0.1))
                .relief(uniform(400, 75e-9), half, uniform(400, 4e-10))
                .stamp(new Stamp.Rigid(), Surround.ISOLATED)
                .wedge(2e-5, 0);
        double[] tilted = FilmRun.of(held.build()).gap;
        double[] level = FilmRun.of(held.freeTilt().build()).gap;
        double tilt = tilted[grid.index(19, 10)] - tilted[grid.index(0, 10)];
        double left = level[grid.index(19, 10)] - level[grid.index(0, 10)];
        assertThat(tilt).isCloseTo(2e-5 * 1.9e-3, within(0.05 * 2e-5 * 1.9e-3));
        assertThat(Math.abs(left)).isLessThan(0.5 * tilt);
    }

    @Test
    void lines_guide_the_film_along_them() {
        // A pressure bump over full gratings: with lines along x film leaves along x.
        TileGrid grid = new TileGrid(0, 0, 1e-4, 21, 21);
        double[] bump = uniform(441, 1e5);
        bump[grid.index(10, 10)] = 2e6;
        PressLoad load = new PressLoad() {
            @Override
            public double endSeconds() {
                return 1e-3;
            }

            @Override
            public double viscosityPascalSeconds(double seconds) {
                return 1e-2;
            }

            @Override
            public void pressurePascal(double seconds, double[] into) {
                System.arraycopy(bump, 0, into, 0, into.length);
            }
        };
        double[] film = uniform(441, 0);
        FilmRun run = FilmRun.of(SolverInput.of(grid, 300e-9, load)
                .relief(uniform(441, 100e-9), uniform(441, 0.5), film)
                .stamp(new Stamp.Plate(130e9, 0.28, 2e-5), Surround.PERIODIC)
                .lineAngle(uniform(441, 0))
                .build());
        assertThat(run.report.complete()).isTrue();
        double along = run.gap[grid.index(12, 10)];
        double across = run.gap[grid.index(10, 12)];
        assertThat(along).isGreaterThan(across);
    }

    @Test
    @Timeout(20)
    void a_cancelled_run_stops_inside_a_linear_solve() throws InterruptedException {
        Progress progress = new Progress();
        SolverInput input = input(128, blocks(128, 8), SILICON, Surround.PERIODIC, PressLoad.constant(1e-2, 1e5, 1e6));
        Thread watcher = new Thread(() -> {
            while (progress.stages().isEmpty() || progress.stages().get(0).done() < 50) {
                Thread.onSpinWait();
            }
            progress.cancel();
        });
        watcher.start();
        try (ThreadTeam team = new ThreadTeam(1)) {
            Stage stage = progress.stage("film", 0, "iterations");
            assertThatThrownBy(() ->
                            new FilmSolver(input, SolverOptions.STANDARD, team).run(new double[0], state -> {}, stage))
                    .isInstanceOf(CancelledException.class);
            assertThat(stage.done()).isLessThan(2000);
        }
        watcher.join();
    }

    @Test
    @Tag("slow")
    void tiles_that_inflow_lifts_do_not_flip_between_full_and_not_full() {
        SolverInput input = input(96, blocks(96, 7), SILICON, Surround.PERIODIC, PressLoad.constant(1e-2, 1e5, 60));
        RunReport report = FilmRun.of(input).report;
        assertThat(report.complete()).isTrue();
        assertThat(report.rejections()).isZero();
        assertThat(report.newtonSteps()).isLessThan(8 * report.steps());
    }
}
