package org.evenstamp.analysis.film.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.stress.Maxwell;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class UnrelaxedFillTest {
    private static final double MODULUS = 1e5;

    /** One number a tile says the same as an element that goes through every step with the wall rate of the tile. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void it_is_what_a_maxwell_element_keeps(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double perWallRate = 3e7; // wall rate over filling rate, 1/m
        UnrelaxedFill memory = new UnrelaxedFill(1, OptionalDouble.of(MODULUS));
        Maxwell element = new Maxwell(MODULUS);
        for (int n = 0; n < 30; n++) {
            double seconds = Math.pow(10, random.nextDouble(-6, 1));
            double viscosity = Math.pow(10, random.nextDouble(3, 8));
            double taken = random.nextDouble(1e-8);
            double filling = n == 29 ? 0.3 * seconds : seconds;
            memory.fade(0, seconds, viscosity);
            memory.take(0, taken, filling, seconds, viscosity, 1);
            element.advance(filling, perWallRate * taken / filling, viscosity);
            element.advance(seconds - filling, 0, viscosity);
        }
        assertThat(MODULUS * perWallRate * memory.memory()[0]).isCloseTo(element.stress(), withinPercentage(1e-8));
    }

    @Test
    void without_a_modulus_it_says_nothing_of_memory() {
        UnrelaxedFill memory = new UnrelaxedFill(1, OptionalDouble.empty());
        memory.take(0, 1e-9, 1, 1, 1e3, 1);
        assertThat(memory.memory()[0]).isNaN();
        assertThat(memory.rate()[0]).isEqualTo(1e-9);
    }

    @Test
    void only_a_tile_with_room_tells_the_pressure_on_its_protrusions() {
        UnrelaxedFill memory = new UnrelaxedFill(2, OptionalDouble.empty());
        memory.take(0, 1e-9, 1, 1, 1e3, 4e6);
        memory.take(0, 1e-9, 1, 1, 1e3, 2e6);
        memory.take(0, 1e-9, 0.5, 1, 1e3, 9e6); // fills half way through
        assertThat(memory.openPressure()[0]).isEqualTo(4e6);
        assertThat(memory.openPressure()[1]).isNaN();
    }

    /**
     * A uniform map under a rigid stamp sinks by Stefan's law until it is full, {@code 1/h² - 1/h0² = 2 p t/(η T)}; what is
     * remembered at the end is the integral of the sinking speed times the fading, by Simpson's rule. The shorter the memory
     * beside the solver's time steps, the coarser they are for it: off by 1.2, 0.11 and 0.010 percent.
     */
    @ParameterizedTest
    @CsvSource({"0.1, 1.3", "1, 0.13", "10, 0.013"})
    void the_solved_memory_is_that_of_stefans_sinking(double relaxationOverFillTime, double percent) {
        double h0 = 250e-9;
        double volume = 100e-9;
        double viscosity = 1e5;
        double pressure = 5e6;
        double moment = 1e-11;
        double pace = 2 * pressure / (viscosity * moment);
        double full = (1 / Math.pow(h0 - volume, 2) - 1 / (h0 * h0)) / pace;
        double relaxation = relaxationOverFillTime * full;
        double end = 1.5 * full;
        double exact = 0;
        int parts = 2000;
        for (int n = 0; n <= parts; n++) {
            double t = full * n / parts;
            double h = 1 / Math.sqrt(1 / (h0 * h0) + pace * t);
            double speed = pace * h * h * h / 2;
            double weight = n == 0 || n == parts ? 1 : n % 2 == 1 ? 4 : 2;
            exact += weight * full / parts / 3 * speed * Math.exp((t - end) / relaxation);
        }

        TileGrid grid = new TileGrid(0, 0, 1e-4, 2, 2);
        SolverInput input = SolverInput.of(grid, h0, PressLoad.constant(viscosity, pressure, end))
                .relief(uniform(volume), uniform(0.5), uniform(moment))
                .stamp(new Stamp.Rigid(), Surround.PERIODIC)
                .build();
        FilmHistory history =
                new FilmHistory(input, FilmSnapshots.at(new double[0]), OptionalDouble.of(viscosity / relaxation));
        try (ThreadTeam team = new ThreadTeam(1)) {
            new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(new double[0], history, new Progress().stage("film", 0, "iterations"));
        }
        assertThat(history.filling().memory()[0]).isCloseTo(exact, withinPercentage(percent));
        assertThat(history.filling().rate()[0]).isCloseTo(pace * h0 * h0 * h0 / 2, withinPercentage(0.1));
        assertThat(history.filling().openPressure()[0]).isCloseTo(pressure, withinPercentage(1e-6));
    }

    private static double[] uniform(double value) {
        return DoubleStream.generate(() -> value).limit(4).toArray();
    }
}
