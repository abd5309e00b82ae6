package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.progress.Progress;

/** A finished run with the maps of its last step, and checks that hold for every run. */
public final class FilmRun {
    public RunReport report = new RunReport(0, 0, 0, 0, 0, 0, 0, false);
    public double[] gap = {};
    public double[] filled = {};
    public double[] pressure = {};
    public double[] deflection = {};
    public double[] flux = {};
    public boolean[] full = {};
    public final List<Double> times = new ArrayList<>();
    public final List<double[]> gaps = new ArrayList<>();
    public final List<double[]> fills = new ArrayList<>();

    public static FilmRun of(SolverInput input, double... stops) {
        return of(input, SolverOptions.STANDARD, 1, stops);
    }

    public static FilmRun of(SolverInput input, SolverOptions options, int threads, double... stops) {
        FilmRun run = new FilmRun();
        try (ThreadTeam team = new ThreadTeam(threads)) {
            run.report = new FilmSolver(input, options, team)
                    .run(
                            stops,
                            state -> {
                                run.gap = state.residual().clone();
                                run.filled = state.filled().clone();
                                run.pressure = state.pressure().clone();
                                run.deflection = state.deflection().clone();
                                run.flux = state.flux().clone();
                                run.full = state.full().clone();
                                run.times.add(state.seconds());
                                run.gaps.add(run.gap);
                                run.fills.add(run.filled);
                            },
                            new Progress().stage("film", 0, "iterations"));
        }
        assertThat(run.report.massError()).as("mass error").isLessThan(1e-8);
        for (int i = 0; i < run.gap.length; i++) {
            assertThat(Double.isFinite(run.gap[i] + run.filled[i] + run.pressure[i] + run.flux[i]))
                    .as("finite in tile %d", i)
                    .isTrue();
        }
        return run;
    }

    public double[] at(double seconds) {
        return gaps.get(times.indexOf(seconds));
    }

    public static double mean(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.length;
    }
}
