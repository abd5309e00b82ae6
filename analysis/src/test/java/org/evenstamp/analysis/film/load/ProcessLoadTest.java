package org.evenstamp.analysis.film.load;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.evenstamp.analysis.film.solve.FilmRun;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.ProcessStep;
import org.evenstamp.analysis.process.StefanSqueeze;
import org.evenstamp.analysis.process.StepProfile;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.UniversalWlf;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;

class ProcessLoadTest {
    private static final double GLASS = 378.15;

    private static FilmRun run(PressLoad load, double... stops) {
        // One land of squeeze moment 1e-10 m^2 that covers half the tile and a cavity it cannot fill, under a rigid
        // stamp.
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 1e-4, 1, 1), 200e-9, load)
                .relief(new double[] {1e-6}, new double[] {0.5}, new double[] {1e-10})
                .build();
        return FilmRun.of(input, stops);
    }

    private static ProcessStep ramp(String name, double seconds, double t0, double t1, double p0, double p1) {
        return ProcessStep.of(name, seconds, new StepProfile.Ramp(t0, t1), new StepProfile.Ramp(p0, p1));
    }

    /** Stefan's sink with the integral of pressure over viscosity from quadrature, independent of the solver's steps. */
    @Test
    void a_land_sinks_through_heating_pressing_and_cooling_as_stefan_says() {
        FilmLaw film = FilmLaw.of(UniversalWlf.law(1e12, GLASS));
        ProcessHistory history = ProcessHistory.of(
                List.of(
                        ramp("heat", 100, 298.15, 400, 0, 0),
                        ramp("heat on", 60, 400, 425, 0, 0.5e6),
                        ramp("press", 20, 425, 425, 0.5e6, 5e6),
                        ramp("hold", 100, 425, 425, 5e6, 5e6),
                        ramp("cool", 60, 425, 350, 5e6, 5e6)),
                film);
        double[] stops = {130, 160, 180, 220, 280, 300};
        FilmRun run = run(new ProcessLoad(history), stops);
        StefanSqueeze sink = new StefanSqueeze(history, 1e-10, 200e-9);
        for (double stop : stops) {
            assertThat(run.at(stop)[0]).as("at %s s", stop).isCloseTo(sink.thicknessMetres(stop), withinPercentage(1));
        }
        assertThat(run.report.complete()).isTrue();
        assertThat(run.report.endSeconds()).isEqualTo(history.flowEndSeconds());
        assertThat(run.gap[0])
                .isLessThan(150e-9)
                .isCloseTo(sink.thicknessMetres(history.flowEndSeconds()), withinPercentage(1));
    }

    @Test
    void a_history_that_stays_at_one_temperature_and_pressure_is_the_constant_load_to_the_bit() {
        FilmLaw resin = FilmLaw.of(new Newtonian(1e4, 0, new TemperatureRange(280, 320)));
        ProcessHistory history = ProcessHistory.of(
                List.of(
                        ramp("hold", 100, 298, 298, 5e6, 5e6),
                        ramp("cure", 1, 298, 298, 5e6, 5e6).curing()),
                resin);
        assertThat(run(new ProcessLoad(history), 10).gap).isEqualTo(run(PressLoad.constant(1e4, 5e6, 100), 10).gap);
    }
}
