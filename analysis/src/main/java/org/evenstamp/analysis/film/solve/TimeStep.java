package org.evenstamp.analysis.film.solve;

import static org.evenstamp.analysis.film.solve.TileStates.LAW;
import static org.evenstamp.analysis.film.solve.TileStates.OPEN;

import java.util.Arrays;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.rheology.SqueezeStress;
import org.evenstamp.shared.progress.Stage;

/**
 * One implicit time step after the other: from the state at its beginning to that at its end, at which film and stamp agree.
 *
 * <p>The unknown is the pressure q of each tile on the stamp. The stamp stands at {@code z + G(q - p)}; the film says at
 * which gap it bears q ({@link TileLaw}); each time step makes both agree, with the force balanced ({@link StampMismatch}).
 * Newton's equation is solved by {@link NewtonSystem}. Which tiles are full, stopped by a particle or out of touch is settled
 * along with Newton's iteration.
 */
final class TimeStep {
    // A step's errors of fronts and of differences add up less than those of the mean; found by refinement.
    private static final double OF_DEVIATION = 0.1;
    private static final double OF_FILM = 0.5;
    private static final double LEAST_DEVIATION = 0.02;
    // Shares of the film's thickness that a tile's land sinks in the time the first steps are measured by.
    private static final double LEAST_SINK = 1e-3;
    private static final double MOST_SINK = 0.5;

    // Of the mismatch in a Newton step: what is not linear and tiles that switch leave as much.
    private static final double LEAST_REDUCTION = 1e-3;

    // Share of the film's thickness by which film and stamp may disagree while a tile that goes to and fro stays.
    private static final double SETTLED = 1e-3;

    private final SolverInput input;
    private final SolverOptions options;
    private final ThreadTeam team;
    private final int size;
    private final int columns;
    private final int rows;
    private final StepViscosity viscosity;
    private final TileLaw law;
    private final TileFlow flow;
    private final TileStates tiles;
    private final GapMobility mobility;
    private final StampMismatch mismatch;
    private final NewtonSystem newton;
    private final FilmState view;

    private final double[] rate; // of the gap, in the last accepted step
    private final double[] filmRate; // of the film in a tile
    private final double[] applied;
    private final double[] pressed; // on the back when the step begins
    private final double[]
            squeeze; // pressure that squeezed the film when the step begins, as much lower as the gap will be

    private double lastStep; // length of the last accepted step, s
    private int newtonSteps;
    private double massError;
    private boolean resting; // nothing has pressed or pulled on the stamp yet

    TimeStep(SolverInput input, SolverOptions options, ThreadTeam team) {
        this.input = input;
        this.options = options;
        this.team = team;
        size = input.grid.size();
        columns = input.grid.columns();
        rows = input.grid.rows();
        StampCompliance stamp = new StampCompliance(input.stamp, input.grid, input.surround, team);
        RigidMotion motion = new RigidMotion(input);
        viscosity = new StepViscosity(input.load, size);
        law = new TileLaw(input);
        flow = new TileFlow(input);
        tiles = new TileStates(input, law);
        mobility = new GapMobility(input);
        mismatch = new StampMismatch(stamp, motion, tiles, flow, input.grid, team);
        newton = new NewtonSystem(stamp, motion, tiles, flow, input.grid, team);
        rate = new double[size];
        filmRate = new double[size];
        applied = new double[size];
        pressed = new double[size];
        squeeze = new double[size];
        view = new FilmState(input, tiles, viscosity, rate);
    }

    /** Puts the stamp on the film at time zero. */
    void start() {
        input.load.pressurePascal(0, applied);
        System.arraycopy(applied, 0, pressed, 0, size);
        resting = input.heldHeight == null
                && Arrays.stream(input.capillaryPressure).allMatch(p -> p == 0);
        tiles.start(applied);
    }

    /** Tries one step and returns the Newton steps it took, or -1 when it did not converge and left all as it was. */
    int attempt(double time, double dt, Stage stage) {
        viscosity.turnTo(time, dt);
        tiles.save();
        input.load.pressurePascal(time + dt, applied);
        resting &= Arrays.stream(applied).allMatch(p -> p == 0);
        if (resting) {
            tiles.rest();
            return 0;
        }
        double height = input.heldHeight == null ? 0 : input.heldHeight.applyAsDouble(time + dt);
        mismatch.begin(applied, height);
        team.run((from, to, member) -> begin(dt, from * columns, to * columns), rows);
        if (lastStep > 0 && isEven(applied) && isEven(pressed)) {
            double times = dt / lastStep;
            team.run((from, to, member) -> tiles.guess(times, from * columns, to * columns), rows);
        } else if (input.stamp.isPressedOnBack()) {
            for (int i = 0; i < size; i++) {
                // The back passes it on: a nearby guess.
                tiles.q[i] += tiles.state[i] == OPEN ? 0 : applied[i] - pressed[i];
            }
        }
        tiles.begin();
        double timeOverViscosity = dt / (12 * viscosity.least());
        team.run((from, to, member) -> flow.begin(timeOverViscosity, mobility, tiles.full, from, to), rows);
        int count = iterate(stage);
        if (count < 0 || mobility.drainedTooFar(tiles, viscosity)) {
            tiles.restore();
            return -1;
        }
        return count;
    }

    private static boolean isEven(double[] values) {
        return Arrays.stream(values).allMatch(value -> value == values[0]);
    }

    private void begin(double dt, int from, int to) {
        for (int i = from; i < to; i++) {
            // The stress at the wall goes with the gap: that in the middle of the step.
            double gap = tiles.landGap[i];
            double middle = Math.min(1.25, Math.max(0.8, 1 + dt * rate[i] / (2 * gap)));
            squeeze[i] = tiles.state[i] == LAW ? middle * (tiles.q[i] - tiles.pressure[i]) : 0;
        }
        tiles.set(viscosity, from, to);
        mobility.begin(dt, viscosity, tiles, rate, flow, from, to);
        law.begin(dt, viscosity, squeeze, tiles.landGap, tiles.film, from, to);
    }

    /** Iterates until film and stamp agree and returns the Newton steps it took, or -1 when the budget did not suffice. */
    private int iterate(Stage stage) {
        double tolerance = options.newtonTolerance() * input.filmThickness;
        int count = 0;
        while (true) {
            mismatch.evaluate();
            tiles.settled = mismatch.metres() <= SETTLED * input.filmThickness;
            boolean switching = switchTiles();
            if (switching && tiles.moved) {
                mismatch.evaluate();
            } else if (switching) {
                mismatch.evaluateBent();
            }
            if (!switching && mismatch.metres() <= tolerance && mismatch.forceError() <= options.newtonTolerance()) {
                return count;
            }
            if (count >= options.newtonBudget() || tiles.restless || !Double.isFinite(mismatch.metres())) {
                return -1;
            }
            count++;
            newtonSteps++;
            double wanted = Math.max(LEAST_REDUCTION, Math.min(1, tolerance / Math.max(mismatch.metres(), 1e-300)) / 2);
            try {
                newton.advance(wanted, options.cgBudget(), stage);
            } catch (ArithmeticException e) {
                return -1; // a step far too long leads where the equation has no meaning; a shorter one is tried
            }
        }
    }

    /** Lets tiles switch, and a stamp that nothing bears fall, and returns whether any tile did. */
    private boolean switchTiles() {
        tiles.switched = false;
        tiles.moved = false;
        team.run((from, to, member) -> tiles.switchTiles(from * columns, to * columns), rows);
        if (newton.isBalanced()) {
            tiles.fall();
        }
        return tiles.switched;
    }

    /**
     * Makes the step's end the state and returns the error of the extrapolation: the largest of that of the gap over the mean
     * gap; that of the gap's deviation from its mean over the mean deviation; and that of the film in the tiles over what moves
     * there. The last two count as far as fronts and differences have something to do with what is seen in the end.
     */
    double accept(double dt) {
        tiles.relax(dt, viscosity);
        double[] gap = tiles.landGap;
        double[] film = tiles.film;
        double error = 0;
        double shift = 0;
        double scale = 0;
        double before = 0;
        double after = 0;
        double under = 0;
        double filmError = 0;
        for (int i = 0; i < size; i++) {
            double off = tiles.newLandGap[i] - (gap[i] + dt * rate[i]);
            error += Math.abs(off);
            shift += off / size;
            scale += Math.abs(gap[i]);
            before += film[i];
            after += tiles.newFilm[i];
            under += tiles.active[i] ? tiles.r[i] : 0;
            filmError += Math.abs(tiles.newFilm[i] - (film[i] + dt * filmRate[i]));
        }
        massError = Math.max(massError, (Math.abs(after - before - mismatch.edgeInflow()) + Math.abs(under)) / before);
        double deviation = 0;
        double deviationError = 0;
        for (int i = 0; i < size; i++) {
            deviation += Math.abs(tiles.newLandGap[i] - scale / size);
            deviationError += Math.abs(tiles.newLandGap[i] - (gap[i] + dt * rate[i]) - shift);
        }
        for (int i = 0; i < size; i++) {
            rate[i] = (tiles.newLandGap[i] - gap[i]) / dt;
            filmRate[i] = (tiles.newFilm[i] - film[i]) / dt;
            pressed[i] = applied[i];
        }
        tiles.accept();
        lastStep = dt;
        return Math.max(
                error / scale,
                Math.max(
                        OF_DEVIATION * deviationError / Math.max(deviation, LEAST_DEVIATION * scale),
                        OF_FILM * filmError / scale));
    }

    /**
     * Returns the shortest time in which a tile would fill alone, by Stefan's law under the pressure of the load and its meniscus,
     * in s; infinite where nothing tells it. It goes with what is pressed and not with how long.
     */
    double shortestFillSeconds() {
        double most = mostPressure();
        double eta = leastViscosity();
        double shortest = Double.POSITIVE_INFINITY;
        double shortestOfLand = Double.POSITIVE_INFINITY;
        for (int i = 0; i < size; i++) {
            double pull = most + Math.max(0, input.capillaryPressure[i]);
            double h = input.thickness[i];
            double moment = input.squeezeMoment[i];
            double left = 1 - Math.min(MOST_SINK, Math.max(LEAST_SINK, input.cavityVolume[i] / h));
            double thinned =
                    input.thinning.underStress(eta, SqueezeStress.pascals(pull, h, input.cavityFraction[i], moment));
            double seconds = thinned * moment / (2 * pull * h * h) * (1 / (left * left) - 1);
            if (seconds > 0 && Double.isFinite(seconds)) {
                shortestOfLand = Math.min(shortestOfLand, seconds);
                shortest = input.cavityVolume[i] > 0 ? Math.min(shortest, seconds) : shortest;
            }
        }
        return Double.isFinite(shortest) ? shortest : shortestOfLand;
    }

    private double mostPressure() {
        double[] pressures = new double[size];
        double most = 0;
        for (double time : someTimes()) {
            input.load.pressurePascal(time, pressures);
            for (double p : pressures) {
                most = Math.max(most, p);
            }
        }
        return most;
    }

    /** The lowest viscosity of the load: a film that is cold at first tells nothing of how fast it will flow. */
    private double leastViscosity() {
        return Arrays.stream(someTimes())
                .map(input.load::viscosityPascalSeconds)
                .min()
                .orElseThrow();
    }

    /** Times between which the load changes evenly, and some within the first of its stretches. */
    private double[] someTimes() {
        double end = input.load.endSeconds();
        double[] shares = {0, end / 1000, end / 100, end / 10, end / 3};
        return DoubleStream.concat(Arrays.stream(shares), Arrays.stream(input.load.breaks()))
                .toArray();
    }

    /** Returns a view of the state after a step that was accepted, or of the beginning after a step of 0 s. */
    FilmState state(double time, double dt) {
        view.show(flow, time, dt);
        return view;
    }

    /** Keeps the state after a step that was accepted, or that of the beginning after a step of 0 s. */
    void keep(FilmTape tape, double start, double dt) {
        tape.keep(tiles, start, dt, viscosity.least(), dt > 0 && resting);
    }

    /** Returns the Newton steps of all time steps. */
    int newtonSteps() {
        return newtonSteps;
    }

    /** Returns the conjugate-gradient iterations of all Newton steps. */
    int cgIterations() {
        return newton.cgIterations();
    }

    /** Returns how many linear solves ended at their budget. */
    int cgShortfalls() {
        return newton.cgShortfalls();
    }

    /** Returns the largest loss or gain of film in a step, over the film. */
    double massError() {
        return massError;
    }
}
