package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import java.util.stream.Stream;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.progress.Stage;
import org.jspecify.annotations.Nullable;

/**
 * Takes a film under an elastic stamp through time, implicitly, conserving its mass: chooses the time steps, lets {@link
 * TimeStep} try each, cuts one that does not converge, and shows those accepted to an observer. Every budget that was hit
 * is in the report.
 *
 * <p>One solver runs once, from one thread.
 */
public final class FilmSolver {
    /** Steps over the shortest fill time: the first, and until which they may double. */
    private static final double FIRST_STEP = 5e-4;

    private static final double EARLY_STEP = 0.05;
    private static final double EARLY_GROWTH = 2;
    /** First step over the whole time where no land tells a fill time. */
    private static final double UNKNOWN_FIRST = 1e-6;

    /** Share of a step's length by which its end may miss a break. */
    private static final double SAME = 1e-6;

    private final SolverInput input;
    private final SolverOptions options;
    private final TimeStep step;
    private @Nullable FilmTape tape;

    /** Prepares a run. The team serves until {@link #run} returns. */
    public FilmSolver(SolverInput input, SolverOptions options, ThreadTeam team) {
        this.input = input;
        this.options = options;
        step = new TimeStep(input, options, team);
    }

    /** Lets the run keep its accepted steps on a tape, for the way back. */
    public FilmSolver recordOn(FilmTape newTape) {
        tape = newTape;
        return this;
    }

    /** Lets the run keep the end of its last step on a tape. */
    public FilmSolver recordLast(FilmTape newTape) {
        newTape.keepLastOnly();
        return recordOn(newTape);
    }

    private void keep(double start, double dt) {
        if (tape != null) {
            step.keep(tape, start, dt);
        }
    }

    /**
     * Takes the given steps and no others, to compare with a run that took such steps.
     *
     * @param stepSeconds their lengths
     * @return whether each of them converged; the run ends at the first that does not
     */
    public boolean repeat(double[] stepSeconds, Stage stage) {
        double[] stops = stops(new double[0]);
        step.start();
        keep(0, 0);
        double time = 0;
        for (double length : stepSeconds) {
            // Steps end at breaks of the load, to the last bit.
            double end = time + length;
            int near = Arrays.binarySearch(stops, end);
            int after = near >= 0 ? near : -near - 1;
            for (int s = Math.max(0, after - 1); s < Math.min(stops.length, after + 1); s++) {
                end = Math.abs(stops[s] - end) <= SAME * length ? stops[s] : end;
            }
            double dt = end == time + length ? length : end - time;
            if (step.attempt(time, dt, stage) < 0) {
                return false;
            }
            step.accept(dt);
            keep(time, dt);
            time = end;
        }
        return true;
    }

    /**
     * Runs to the end of the load.
     *
     * @param stopsSeconds times at which a step must end, in any order
     * @param observer sees every accepted step
     * @param stage counts conjugate-gradient iterations, and is where the run can be interrupted
     */
    public RunReport run(double[] stopsSeconds, FilmObserver observer, Stage stage) {
        double[] stops = stops(stopsSeconds);
        step.start();
        observer.accepted(step.state(0, 0));
        keep(0, 0);
        double time = 0;
        double fill = step.shortestFillSeconds();
        boolean asked = options.firstStepShare() > 0 || !Double.isFinite(fill);
        double share = options.firstStepShare() > 0 ? options.firstStepShare() : UNKNOWN_FIRST;
        double dt = asked ? share * input.load.endSeconds() : FIRST_STEP * fill;
        double early = asked ? 0 : EARLY_STEP * fill;
        double shortest = 1e-9 * dt;
        int steps = 0;
        int rejections = 0;
        int next = 0;
        boolean complete = true;
        while (next < stops.length) {
            if (steps + rejections >= options.stepBudget() + 4 * stops.length || dt < shortest) {
                complete = false;
                break;
            }
            double rest = stops[next] - time;
            boolean lands = dt >= rest * (1 - 1e-9);
            // Two even steps are better than one step and a sliver.
            double tried = lands ? rest : 2 * dt > rest ? rest / 2 : dt;
            int newton = step.attempt(time, tried, stage);
            if (newton < 0) {
                rejections++;
                dt = tried / 4;
                continue;
            }
            double start = time;
            time = lands ? stops[next] : time + tried;
            if (lands) {
                next++;
            }
            steps++;
            // Before anything fills, time gone by is no measure of a step.
            double most = tried < early ? EARLY_GROWTH : options.growth();
            double factor = growth(step.accept(tried), newton, most);
            observer.accepted(step.state(time, tried));
            keep(start, tried);
            // A step cut short to land on a stop says nothing against the longer one.
            dt = tried < dt && factor >= 1 ? Math.max(dt, tried * factor) : tried * factor;
        }
        return new RunReport(
                time,
                steps,
                rejections,
                step.newtonSteps(),
                step.cgIterations(),
                step.cgShortfalls(),
                step.massError(),
                complete);
    }

    /** Returns the times at which a step must end, in order: those asked for, the breaks of the load, and its end. */
    private double[] stops(double[] asked) {
        double end = input.load.endSeconds();
        return Stream.of(asked, input.load.breaks(), new double[] {end})
                .flatMapToDouble(Arrays::stream)
                .filter(t -> t > 0 && t <= end)
                .sorted()
                .distinct()
                .toArray();
    }

    /** Returns the next time step over this one. */
    private double growth(double error, int newton, double most) {
        double factor = Math.sqrt(options.timeTolerance() / Math.max(error, 1e-30));
        factor = Math.min(most, Math.max(0.5, factor));
        if (newton > 15) {
            return Math.min(factor, 0.7);
        }
        return newton > 9 ? Math.min(factor, 1) : factor;
    }
}
