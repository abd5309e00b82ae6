package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Films whose viscosity differs from tile to tile, and that set in one place before they do in another. */
class UnevenFilmTest {
    private static final double FILM = 200e-9;
    private static final double PRESSURE = 5e6;
    /** So limp that each tile bears what presses on it. */
    private static final Stamp LIMP = new Stamp.Plate(1e9, 0.4, 1e-5);

    /** Each tile flows with its own viscosity until it sets. */
    static class Setting implements PressLoad {
        private final double[] viscosity;
        private final double[] setSeconds;
        private final double endSeconds;
        private final double pascal;

        Setting(double[] viscosity, double[] setSeconds, double endSeconds) {
            this(viscosity, setSeconds, endSeconds, PRESSURE);
        }

        Setting(double[] viscosity, double[] setSeconds, double endSeconds, double pascal) {
            this.pascal = pascal;
            this.viscosity = viscosity;
            this.setSeconds = setSeconds;
            this.endSeconds = endSeconds;
        }

        @Override
        public double endSeconds() {
            return endSeconds;
        }

        @Override
        public double viscosityPascalSeconds(double seconds) {
            double least = Double.POSITIVE_INFINITY;
            for (int i = 0; i < viscosity.length; i++) {
                least = seconds <= setSeconds[i] ? Math.min(least, viscosity[i]) : least;
            }
            return least;
        }

        @Override
        public boolean differsByTile() {
            return true;
        }

        @Override
        public void fluidity(double from, double to, double[] into) {
            for (int i = 0; i < into.length; i++) {
                double flows = to == from
                        ? (from < setSeconds[i] ? 1 : 0)
                        : (Math.min(to, setSeconds[i]) - from) / (to - from);
                into[i] = Math.max(0, flows) / viscosity[i];
            }
        }

        @Override
        public void pressurePascal(double seconds, double[] into) {
            Arrays.fill(into, pascal);
        }
    }

    private static double[] all(int size, double value) {
        double[] map = new double[size];
        Arrays.fill(map, value);
        return map;
    }

    /** Stefan's law in closed form, {@code 1/h² = 1/h0² + 2 p t/(η T)}, with the time until the tile set. */
    private static double stefan(double viscosity, double moment, double seconds) {
        return 1 / Math.sqrt(1 / (FILM * FILM) + 2 * PRESSURE * seconds / (viscosity * moment));
    }

    @Test
    void two_tiles_of_different_viscosity_side_by_side_sink_each_as_stefan_says() {
        double[] viscosity = {1e4, 7e5};
        double[] set = {Double.MAX_VALUE, Double.MAX_VALUE};
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-3, 2, 1), FILM, new Setting(viscosity, set, 100))
                .relief(all(2, 1e-6), all(2, 0.5), all(2, 1e-10))
                .stamp(LIMP, Surround.PERIODIC)
                .build();
        FilmRun run = FilmRun.of(input, 1, 10);
        for (double time : new double[] {1, 10, 100}) {
            for (int i = 0; i < 2; i++) {
                assertThat(run.at(time)[i])
                        .as("tile %d at %s s", i, time)
                        .isCloseTo(stefan(viscosity[i], 1e-10, time), withinPercentage(1e-4));
            }
        }
    }

    /** The second tile sets at 3 s, inside a step: what it flowed until then counts, and nothing after. */
    @Test
    void a_tile_flows_until_it_sets_and_then_stays() {
        double[] viscosity = {1e4, 3e4};
        SolverInput input = SolverInput.of(
                        new TileGrid(0, 0, 1e-3, 2, 1), FILM, new Setting(viscosity, new double[] {100, 3}, 100))
                .relief(all(2, 1e-6), all(2, 0.5), all(2, 1e-10))
                .stamp(LIMP, Surround.PERIODIC)
                .build();
        FilmRun run = FilmRun.of(input, 10);
        assertThat(run.at(10)[1]).isCloseTo(stefan(3e4, 1e-10, 3), withinPercentage(1e-4));
        assertThat(run.at(100)[1]).isEqualTo(run.at(10)[1]);
        assertThat(run.at(100)[0]).isCloseTo(stefan(1e4, 1e-10, 100), withinPercentage(1e-4));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void a_map_of_equal_viscosities_is_solved_as_one_viscosity_is(long seed) {
        double end = 20;
        Setting map = new Setting(all(144, 1024), all(144, Double.MAX_VALUE), end);
        FilmHistory[] seen = new FilmHistory[2];
        for (int n = 0; n < 2; n++) {
            SolverInput input = patterned(n == 0 ? map : PressLoad.constant(1024, PRESSURE, end), seed);
            seen[n] = new FilmHistory(input, FilmSnapshots.along(0, FILM), OptionalDouble.of(1e5));
            try (ThreadTeam team = new ThreadTeam(1)) {
                new FilmSolver(input, SolverOptions.STANDARD, team)
                        .run(new double[0], seen[n], new Progress().stage("film", 0, "iterations"));
            }
        }
        assertThat(seen[0].residual()).isEqualTo(seen[1].residual());
        assertThat(seen[0].filled()).isEqualTo(seen[1].filled());
        assertThat(seen[0].fillTime()).isEqualTo(seen[1].fillTime());
        assertThat(seen[0].filling().memory()).isEqualTo(seen[1].filling().memory());
        assertThat(seen[0].peakPressure()).isEqualTo(seen[1].peakPressure());
    }

    /** Tiles set one after the other, full or not, while the others go on; FilmRun looks after mass and numbers. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void what_has_set_stays_whatever_its_neighbours_do(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] viscosity = random.doubles(144, 10, 1000).toArray();
        double[] set = random.doubles(144, 0.01, 1).toArray();
        Arrays.setAll(set, i -> 0.05 * Math.ceil(set[i] / 0.05) * (i % 12 < 6 ? 1 : 0.5));
        FilmRun run = FilmRun.of(patterned(new Setting(viscosity, set, 1), seed));
        assertThat(run.report.complete()).isTrue();
        int unfilled = 0;
        int moved = 0;
        for (int i = 0; i < 144; i++) {
            double gap = Double.NaN;
            double filled = Double.NaN;
            for (int n = 0; n < run.times.size(); n++) {
                if (run.times.get(n) >= set[i] * (1 + 1e-9)) {
                    if (Double.isNaN(gap)) {
                        gap = run.gaps.get(n)[i];
                        filled = run.fills.get(n)[i];
                    }
                    assertThat(run.gaps.get(n)[i]).as("gap of tile %d", i).isEqualTo(gap);
                    assertThat(run.fills.get(n)[i]).as("filling of tile %d", i).isEqualTo(filled);
                }
            }
            unfilled += run.full[i] ? 0 : 1;
            moved += run.gap[i] < FILM - 1e-9 ? 1 : 0;
        }
        assertThat(unfilled).isBetween(5, 139);
        assertThat(moved).isGreaterThan(100);
    }

    private static SolverInput patterned(PressLoad load, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int size = 144;
        double[] fraction = random.doubles(size, 0.2, 0.8).toArray();
        double[] volume = Arrays.stream(fraction).map(f -> f * 150e-9).toArray();
        double[] moment =
                Arrays.stream(fraction).map(f -> Math.pow(1 - f, 3) * 4e-9).toArray();
        return SolverInput.of(new TileGrid(0, 0, 1e-4, 12, 12), FILM, load)
                .relief(volume, fraction, moment)
                .stamp(new Stamp.Plate(2e9, 0.4, 1e-4), Surround.PERIODIC)
                .build();
    }
}
