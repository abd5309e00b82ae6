package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import org.assertj.core.api.SoftAssertions;
import org.assertj.core.data.Percentage;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.solve.AdjointCase.Again;
import org.evenstamp.analysis.film.solve.AdjointCase.Body;
import org.evenstamp.analysis.film.solve.AdjointCase.Change;
import org.evenstamp.analysis.film.solve.AdjointCase.Land;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class FilmAdjointTest {
    private static final double STEP = 1e-5; // of the central differences: curvature counts 1e-10 of it, rounding 1e-6
    private static final double OF_INPUT = 1e-6;

    private static Map<String, Change> changes() {
        double[] direction =
                new SplittableRandom(9).doubles(AdjointCase.SIZE, -1, 1).toArray();
        Map<String, Change> changes = new LinkedHashMap<>();
        changes.put("thickness", (c, e) -> scale(c.thickness, direction, e));
        changes.put("volume", (c, e) -> scale(c.volume, direction, e));
        changes.put("fraction", (c, e) -> scale(c.fraction, direction, e));
        changes.put("moment", (c, e) -> scale(c.moment, direction, e));
        changes.put("edges", (c, e) -> scale(c.edges, direction, e));
        changes.put("sag", (c, e) -> scale(c.sag, direction, e));
        changes.put("capillarity", (c, e) -> scale(c.capillary, direction, e));
        changes.put("depth", (c, e) -> Arrays.setAll(c.volume, i -> c.volume[i] * (1 + e)));
        changes.put("viscosity", (c, e) -> c.viscosity *= 1 + e);
        changes.put("pressure", (c, e) -> c.pascal *= 1 + e);
        changes.put("modulus", (c, e) -> c.modulus *= 1 + e);
        changes.put("wedge", (c, e) -> c.wedge += 1e-5 * e);
        return changes;
    }

    /** What differs from place to place may change too. */
    private static Map<String, Change> changesOf(AdjointCase base) {
        Map<String, Change> changes = changes();
        if (base.factor.length > 0) {
            double[] direction =
                    new SplittableRandom(10).doubles(AdjointCase.SIZE, -1, 1).toArray();
            changes.put("viscosity of each tile", (c, e) -> scale(c.factor, direction, e));
            changes.put("when each tile sets", (c, e) -> scale(c.setSeconds, direction, e));
        }
        return changes;
    }

    private static void scale(double[] map, double[] direction, double size) {
        for (int i = 0; i < map.length; i++) {
            map[i] *= 1 + size * direction[i];
        }
    }

    static Stream<Arguments> solves() {
        List<Arguments> solves = new ArrayList<>();
        for (Body body : Body.values()) {
            for (boolean liquid : new boolean[] {false, true}) {
                for (Land land : Land.values()) {
                    solves.add(Arguments.of(solves.size() + 1L, body, liquid, land));
                }
            }
        }
        return solves.stream();
    }

    /**
     * Central differences at the same time steps. A hundredth of the derivative and a thousandth of three sigma are allowed: a tile
     * that fills within a step keeps a pressure of Newton's way there, which the way back knows to first order only. Where two
     * central differences of different step do not agree to a tenth of that, there is a kink between them and nothing to compare.
     */
    @ParameterizedTest
    @Tag("slow")
    @MethodSource("solves")
    void every_derivative_agrees_with_central_differences(long seed, Body body, boolean liquid, Land land) {
        AdjointCase base = new AdjointCase(seed, body, liquid, land);
        compare(base);
    }

    @ParameterizedTest
    @Tag("slow")
    @ValueSource(longs = {3, 4})
    void an_isolated_stamp_that_may_tilt_over_an_open_rim_agrees_too(long seed) {
        AdjointCase base = new AdjointCase(seed, Body.PLATE, false, Land.LINKED);
        base.surround = Surround.ISOLATED;
        compare(base);
    }

    static Stream<Arguments> placesThatDiffer() {
        return Stream.of(
                Arguments.of(31L, Body.RIGID, false, Land.PLAIN),
                Arguments.of(33L, Body.PLATE, true, Land.LINKED),
                Arguments.of(35L, Body.LAYER, false, Land.LINKED));
    }

    @ParameterizedTest
    @Tag("slow")
    @MethodSource("placesThatDiffer")
    void a_film_that_flows_and_sets_place_by_place_agrees_too(long seed, Body body, boolean liquid, Land land) {
        AdjointCase base = new AdjointCase(seed, body, liquid, land).placeByPlace();
        compare(base);
    }

    @ParameterizedTest
    @Tag("slow")
    @ValueSource(longs = {42})
    void a_nip_that_passes_over_a_foil_agrees_too(long seed) {
        AdjointCase base = new AdjointCase(seed, Body.PLATE, seed % 2 == 0, Land.LINKED).placeByPlace();
        base.rolls = true;
        compare(base);
    }

    @Test
    void a_map_of_equal_viscosities_has_the_way_back_of_one() {
        AdjointCase even = new AdjointCase(2, Body.LAYER, false, Land.LINKED);
        AdjointCase map = new AdjointCase(2, Body.LAYER, false, Land.LINKED);
        map.factor = new double[AdjointCase.SIZE];
        Arrays.fill(map.factor, 1);
        map.setSeconds = new double[AdjointCase.SIZE];
        Arrays.fill(map.setSeconds, Double.MAX_VALUE);
        try (ThreadTeam team = new ThreadTeam(1)) {
            List<FilmGradient> both = new ArrayList<>();
            for (AdjointCase one : List.of(even, map)) {
                FilmTape tape = one.run(team);
                SolverInput less =
                        one.changed((c, e) -> c.viscosity *= 1 + e, 1e-3).input();
                double[] goal = AdjointCase.sigma3Slope(tape.lastResidual());
                both.add(AdjointCase.back(one.input(), tape, goal, List.of(less), team));
            }
            assertThat(both.get(1).byVolume()).isEqualTo(both.get(0).byVolume());
            assertThat(both.get(1).change(0))
                    .as("a sum over tiles in place of one over faces")
                    .isCloseTo(both.get(0).change(0), Percentage.withPercentage(1e-8));
        }
    }

    private static void compare(AdjointCase base) {
        try (ThreadTeam team = new ThreadTeam(1)) {
            FilmTape tape = base.run(team);
            double[] steps = tape.stepSeconds();
            double[] residual = tape.lastResidual();
            assertThat(base.repeated(steps, team)).as("the same steps again").isEqualTo(residual);
            List<SolverInput> others = new ArrayList<>();
            for (Change change : changesOf(base).values()) {
                others.add(base.changed(change, -OF_INPUT).input());
                others.add(base.changed(change, OF_INPUT).input());
            }
            double spread = AdjointCase.sigma3(residual);
            SolverInput input = base.input();
            Optional<FillingTime> filling = FillingTime.of(input, tape);
            try (Stage stage = new Progress().stage("back", 0, "")) {
                List<FilmGradient> gradients = new FilmAdjoint(input, tape, 1e-9, team)
                        .back(List.of(AdjointCase.sigma3Slope(residual)), filling, others, stage);
                ToDoubleFunction<Again> ofSpread = again -> AdjointCase.sigma3(again.residual());
                Solves solves = new Solves(base, steps, team, new HashMap<>());
                compare(solves, gradients.get(0), spread, ofSpread);
                if (filling.isPresent()) {
                    FillingTime time = filling.get();
                    FilmGradient gradient = gradients.get(1);
                    ToDoubleFunction<Again> ofTime = again ->
                            again.done() ? time.secondsOf(again.input(), again.tape(), steps, gradient) : Double.NaN;
                    compare(solves, gradient, time.seconds(), ofTime);
                }
            }
        }
    }

    /** Solves of changed cases with the same steps, each made once for all goals. */
    @SuppressWarnings("ArrayRecordComponent") // read alone
    private record Solves(AdjointCase base, double[] steps, ThreadTeam team, Map<String, Again> made) {
        double difference(String name, double size, ToDoubleFunction<Again> goal) {
            return (goal.applyAsDouble(of(name, size)) - goal.applyAsDouble(of(name, -size))) / (2 * size);
        }

        private Again of(String name, double size) {
            Change change = Objects.requireNonNull(changesOf(base).get(name));
            return made.computeIfAbsent(
                    name + size, key -> base.changed(change, size).again(steps, team));
        }
    }

    private static void compare(Solves solves, FilmGradient gradient, double value, ToDoubleFunction<Again> goal) {
        SoftAssertions softly = new SoftAssertions();
        int number = 0;
        int compared = 0;
        Set<String> names = changesOf(solves.base).keySet();
        for (String name : names) {
            double told = (gradient.change(2 * number + 1) - gradient.change(2 * number)) / (2 * OF_INPUT);
            number++;
            double wide = solves.difference(name, STEP, goal);
            double allowed = 0.01 * Math.abs(wide) + 1e-3 * value;
            boolean agrees = Math.abs(told - wide) <= allowed;
            double narrow = agrees ? wide : solves.difference(name, STEP / 3, goal);
            if (Math.abs(wide - narrow) <= 0.1 * allowed) {
                compared++;
                softly.assertThat(told).as(name).isCloseTo(wide, within(allowed));
            }
        }
        softly.assertAll();
        assertThat(compared).as("derivatives without a kink").isGreaterThanOrEqualTo(names.size() - 3);
    }

    @Test
    void a_tile_alone_goes_with_viscosity_pressure_time_and_thickness_as_stefans_law_does() {
        // 1/h² = 1/h0² + 2 p t/(η T): dh/dln η = h³ p t/(η T), by ln p and ln t its negative, dh/dh0 = (h/h0)³.
        double h0 = 200e-9;
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, 1, 1), h0, PressLoad.constant(1e4, 5e6, 3))
                .relief(new double[] {1e-6}, new double[] {0.5}, new double[] {1e-10})
                .build();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("film", 0, "")) {
            FilmTape tape = new FilmTape();
            new FilmSolver(input, AdjointCase.TIGHT, team).recordOn(tape).run(new double[0], state -> {}, stage);
            FilmGradient gradient = AdjointCase.back(input, tape, new double[] {1}, List.of(), team);
            double h = 1 / Math.sqrt(1 / (h0 * h0) + 2 * 5e6 * 3 / (1e4 * 1e-10));
            double slope = h * h * h * 5e6 * 3 / (1e4 * 1e-10);
            Percentage close = Percentage.withPercentage(1e-5);
            assertThat(tape.lastResidual()[0]).isCloseTo(h, close);
            assertThat(Arrays.stream(gradient.byLogViscosity()).sum()).isCloseTo(slope, close);
            assertThat(Arrays.stream(gradient.byLogPressure()).sum()).isCloseTo(-slope, close);
            assertThat(Arrays.stream(gradient.byLogStep()).sum()).isCloseTo(-slope, close);
            assertThat(gradient.byMoment()[0]).isCloseTo(slope / 1e-10, close);
            assertThat(gradient.byThickness()[0]).isCloseTo(Math.pow(h / h0, 3), close);
            // Hence the time to a thickness goes with the viscosity and against the pressure, one to one.
            double timePerViscosity = -Arrays.stream(gradient.byLogViscosity()).sum()
                    / Arrays.stream(gradient.byLogStep()).sum();
            assertThat(timePerViscosity).isCloseTo(1, close);
        }
    }

    @Test
    void the_time_to_fill_a_tile_alone_goes_with_viscosity_and_against_pressure_one_to_one() {
        // Stefan's law in a tile that nothing leaves: its cavities take what the land loses, so t = η T (1/h² -
        // 1/h0²)/(2 p),
        // h = h0 - 0.999 v.
        double h0 = 200e-9;
        double v = 60e-9;
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, 1, 1), h0, PressLoad.constant(1e4, 5e6, 3))
                .relief(new double[] {v}, new double[] {0.5}, new double[] {1e-10})
                .build();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("film", 0, "")) {
            FilmTape tape = new FilmTape();
            new FilmSolver(input, AdjointCase.TIGHT, team).recordOn(tape).run(new double[0], state -> {}, stage);
            FillingTime time = FillingTime.of(input, tape).orElseThrow();
            assertThat(time.share()).isBetween(0.6, FillingTime.MOST);
            double h = h0 - time.share() * v;
            double perMetre = 1e4 * 1e-10 / 5e6; // dt/dh = -perMetre/h³
            Percentage close = Percentage.withPercentage(0.01);
            assertThat(time.seconds()).isCloseTo(perMetre / 2 * (1 / (h * h) - 1 / (h0 * h0)), close);
            FilmGradient gradient = new FilmAdjoint(input, tape, 1e-9, team)
                    .back(List.of(), Optional.of(time), List.of(), stage)
                    .get(0);
            assertThat(Arrays.stream(gradient.byLogViscosity()).sum()).isCloseTo(time.seconds(), close);
            assertThat(Arrays.stream(gradient.byLogPressure()).sum()).isCloseTo(-time.seconds(), close);
            assertThat(Arrays.stream(gradient.byLogStep()).sum()).isCloseTo(0, within(1e-4 * time.seconds()));
            assertThat(gradient.byThickness()[0]).isCloseTo(-perMetre * (1 / (h * h * h) - 1 / (h0 * h0 * h0)), close);
            assertThat(gradient.byVolume()[0]).isCloseTo(time.share() * perMetre / (h * h * h), close);
        }
    }

    @Test
    void an_even_film_that_is_touched_everywhere_at_once_has_no_first_tile() {
        // A map that is its own mirror image: so are all slopes, and a wedge to either side does the same.
        int n = 6;
        double[] fraction = new double[n * n];
        for (int i = 0; i < fraction.length; i++) {
            int column = Math.min(i % n, n - 1 - i % n);
            int row = i / n;
            fraction[i] = 0.2 + 0.1 * column + 0.05 * row;
        }
        double[] moment = new double[n * n];
        Arrays.fill(moment, 1e-10);
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, n, n), 200e-9, PressLoad.constant(1e4, 5e6, 30))
                .relief(Arrays.stream(fraction).map(f -> f * 100e-9).toArray(), fraction, moment)
                .stamp(new Stamp.Plate(130e9, 0.28, 525e-6), Surround.PERIODIC)
                .build();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("film", 0, "")) {
            FilmTape tape = new FilmTape();
            new FilmSolver(input, AdjointCase.TIGHT, team).recordOn(tape).run(new double[0], state -> {}, stage);
            FilmGradient gradient = new FilmAdjoint(input, tape, 1e-9, team)
                    .back(List.of(), FillingTime.of(input, tape), List.of(), stage)
                    .get(0);
            double[] slope = gradient.byThickness();
            double largest = Arrays.stream(slope).map(Math::abs).max().orElseThrow();
            for (int i = 0; i < slope.length; i++) {
                assertThat(slope[i]).isCloseTo(slope[i / n * n + n - 1 - i % n], within(1e-6 * largest));
            }
            double leaning = largest * 1e-4 * n * n * n; // what a wedge would do whose tiles all did the most
            assertThat(gradient.byWedgeX()).isCloseTo(0, within(1e-6 * leaning));
        }
    }

    @Test
    void cavities_that_are_not_filled_so_far_have_no_time_of_filling() {
        AdjointCase base = new AdjointCase(1, Body.LAYER, false, Land.LINKED);
        base.seconds = 0.01;
        try (ThreadTeam team = new ThreadTeam(1)) {
            assertThat(FillingTime.of(base.input(), base.run(team))).isEmpty();
        }
    }

    @Test
    void where_nothing_flows_between_tiles_the_layer_loses_what_its_own_cavities_take() {
        // Balance: h = h0 - v in each tile under a stamp that yields freely; the film's compressibility takes a part in
        // 1e4.
        int n = 6;
        double[] fraction =
                new SplittableRandom(5).doubles((long) n * n, 0.2, 0.6).toArray();
        double[] volume = Arrays.stream(fraction).map(f -> f * 100e-9).toArray();
        double[] moment = new double[n * n];
        Arrays.fill(moment, 1e-14);
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-3, n, n), 200e-9, PressLoad.constant(1e4, 1e5, 30))
                .relief(volume, fraction, moment)
                .stamp(new Stamp.HalfSpace(1e6, 0.49), Surround.PERIODIC)
                .build();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("film", 0, "")) {
            FilmTape tape = new FilmTape();
            assertThat(new FilmSolver(input, AdjointCase.TIGHT, team)
                            .recordOn(tape)
                            .run(new double[0], state -> {}, stage)
                            .complete())
                    .isTrue();
            double[] goal = new double[n * n];
            goal[8] = 1;
            FilmGradient gradient = AdjointCase.back(input, tape, goal, List.of(), team);
            for (int i = 0; i < n * n; i++) {
                assertThat(gradient.byVolume()[i]).isCloseTo(i == 8 ? -1 : 0, within(1e-3));
                assertThat(gradient.byThickness()[i]).isCloseTo(i == 8 ? 1 : 0, within(1e-3));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void the_mean_layer_over_full_tiles_loses_what_the_cavities_take_wherever_they_are(long seed) {
        // No film is lost: mean h = mean h0 - mean v, but for the film's compressibility.
        AdjointCase base = new AdjointCase(seed, Body.LAYER, false, Land.LINKED);
        try (ThreadTeam team = new ThreadTeam(1)) {
            FilmTape tape = base.run(team);
            double[] mean = new double[AdjointCase.SIZE];
            Arrays.fill(mean, 1.0 / mean.length);
            FilmGradient gradient = AdjointCase.back(base.input(), tape, mean, List.of(), team);
            for (int i = 0; i < mean.length; i++) {
                assertThat(gradient.byVolume()[i] * mean.length).isCloseTo(-1, within(1e-3));
                assertThat(gradient.byThickness()[i] * mean.length).isCloseTo(1, within(1e-3));
            }
        }
    }

    @Test
    void what_a_run_comes_to_does_not_hang_on_whether_it_is_recorded_and_the_way_back_not_on_the_threads() {
        AdjointCase base = new AdjointCase(2, Body.PLATE, false, Land.LINKED);
        FilmRun plain = FilmRun.of(base.input(), AdjointCase.TIGHT, 1);
        double[][] gradients = new double[2][];
        for (int threads = 1; threads <= 2; threads++) {
            try (ThreadTeam team = new ThreadTeam(threads)) {
                FilmTape tape = base.run(team);
                assertThat(tape.lastResidual())
                        .isEqualTo(Arrays.stream(plain.gap)
                                .map(h -> Math.max(0, h))
                                .toArray());
                double[] goal = AdjointCase.sigma3Slope(tape.lastResidual());
                gradients[threads - 1] = AdjointCase.back(base.input(), tape, goal, List.of(), team)
                        .byVolume();
                assertThat(tape.bytes())
                        .isLessThanOrEqualTo(
                                (8L * FilmTape.NUMBERS_PER_TILE + 1) * AdjointCase.SIZE * (tape.length() + 1));
            }
        }
        assertThat(gradients[1]).isEqualTo(gradients[0]);
    }

    @Test
    void goals_that_go_back_together_come_to_the_same_as_each_alone() {
        AdjointCase base = new AdjointCase(1, Body.LAYER, false, Land.LINKED);
        SolverInput input = base.input();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("back", 0, "")) {
            FilmTape tape = base.run(team);
            double[] spread = AdjointCase.sigma3Slope(tape.lastResidual());
            double[] mean = new double[AdjointCase.SIZE];
            Arrays.fill(mean, 1e9 / mean.length);
            List<FilmGradient> both =
                    new FilmAdjoint(input, tape, 1e-9, team).back(List.of(mean, spread), List.of(), stage);
            assertThat(both.get(0).byVolume())
                    .isEqualTo(
                            AdjointCase.back(input, tape, mean, List.of(), team).byVolume());
            assertThat(both.get(1).byThickness())
                    .isEqualTo(AdjointCase.back(input, tape, spread, List.of(), team)
                            .byThickness());
        }
    }

    @Test
    void a_way_back_that_is_not_known_is_refused_with_the_reason() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 2, 2);
        SolverInput gas = SolverInput.of(grid, 1e-7, PressLoad.constant(1, 1e5, 1))
                .gas(1e5, 0)
                .build();
        assertThat(FilmAdjoint.refusal(gas))
                .hasValueSatisfying(reason -> assertThat(reason).contains("process.gas-pressure"));
        SolverInput particle = SolverInput.of(grid, 1e-7, PressLoad.constant(1, 1e5, 1))
                .particles(new double[] {0, 1e-6, 0, 0})
                .build();
        try (ThreadTeam team = new ThreadTeam(1)) {
            assertThatThrownBy(() -> new FilmAdjoint(particle, new FilmTape(), 1e-6, team))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("particles");
        }
    }

    @Test
    void the_way_back_can_be_interrupted() {
        AdjointCase base = new AdjointCase(1, Body.PLATE, false, Land.PLAIN);
        try (ThreadTeam team = new ThreadTeam(1)) {
            FilmTape tape = base.run(team);
            Progress progress = new Progress();
            try (Stage stage = progress.stage("back", 0, "")) {
                progress.cancel();
                double[] goal = new double[AdjointCase.SIZE];
                goal[0] = 1;
                assertThatThrownBy(() ->
                                new FilmAdjoint(base.input(), tape, 1e-6, team).back(List.of(goal), List.of(), stage))
                        .isInstanceOf(CancelledException.class);
            }
        }
    }
}
