package org.evenstamp.analysis.film.solve;

import static org.evenstamp.analysis.film.solve.TileStates.LAW;
import static org.evenstamp.analysis.film.solve.TileStates.OPEN;

import java.util.Arrays;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ThreadTeam;
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
    private final SolverInput input;
    private final SolverOptions options;
    private final ThreadTeam team;
    private final int size;
    private final int columns;
    private final int rows;
    private final TileLaw law;
    private final TileFlow flow;
    private final TileStates tiles;
    private final GapMobility mobility;
    private final StampMismatch mismatch;
    private final NewtonSystem newton;
    private final FilmState view;

    private final double[] rate; // of the gap, in the last accepted step
    private final double[] applied;
    private final double[] pressed; // on the back when the step begins
    private final double[] squeeze; // pressure that squeezed the film when the step begins

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
        law = new TileLaw(input);
        flow = new TileFlow(input);
        tiles = new TileStates(input, law);
        mobility = new GapMobility(input);
        mismatch = new StampMismatch(stamp, motion, tiles, flow, input.grid, team);
        newton = new NewtonSystem(stamp, motion, tiles, flow, input.grid, team);
        rate = new double[size];
        applied = new double[size];
        pressed = new double[size];
        squeeze = new double[size];
        view = new FilmState(input, tiles, rate);
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
    int attempt(double time, double dt, double eta, Stage stage) {
        tiles.save();
        input.load.pressurePascal(time + dt, applied);
        resting &= Arrays.stream(applied).allMatch(p -> p == 0);
        if (resting) {
            tiles.rest();
            return 0;
        }
        double height = input.heldHeight == null ? 0 : input.heldHeight.applyAsDouble(time + dt);
        mismatch.begin(applied, height);
        team.run((from, to, member) -> begin(dt, eta, from * columns, to * columns), rows);
        if (input.stamp.isPressedOnBack()) {
            for (int i = 0; i < size; i++) {
                // The back passes it on: a nearby guess.
                tiles.q[i] += tiles.state[i] == OPEN ? 0 : applied[i] - pressed[i];
            }
        }
        tiles.begin();
        flow.begin(dt / (12 * eta), mobility.cubedX, mobility.cubedY, tiles.full, mobility.share);
        int count = iterate(stage);
        if (count < 0 || mobility.drainedTooFar(tiles)) {
            tiles.restore();
            return -1;
        }
        return count;
    }

    private void begin(double dt, double eta, int from, int to) {
        for (int i = from; i < to; i++) {
            squeeze[i] = tiles.state[i] == LAW ? tiles.q[i] - tiles.pressure[i] : 0;
        }
        mobility.begin(dt, eta, tiles, rate, flow, from, to);
        law.begin(dt, eta, squeeze, tiles.gap, tiles.film, from, to);
    }

    /** Iterates until film and stamp agree and returns the Newton steps it took, or -1 when the budget did not suffice. */
    private int iterate(Stage stage) {
        double tolerance = options.newtonTolerance() * input.filmThickness;
        int count = 0;
        while (true) {
            mismatch.evaluate();
            boolean switching = tiles.switchTiles(newton.isBalanced());
            if (switching) {
                mismatch.evaluate();
            }
            if (!switching && mismatch.metres() <= tolerance && mismatch.forceError() <= options.newtonTolerance()) {
                return count;
            }
            if (count >= options.newtonBudget() || !Double.isFinite(mismatch.metres())) {
                return -1;
            }
            count++;
            newtonSteps++;
            double wanted = Math.max(1e-3, Math.min(0.01, 0.1 * tolerance / Math.max(mismatch.metres(), 1e-300)));
            newton.advance(wanted, options.cgBudget(), stage);
        }
    }

    /** Makes the step's end the state and returns the error of the extrapolation. */
    double accept(double dt) {
        double[] gap = tiles.gap;
        double[] film = tiles.film;
        double error = 0;
        double scale = 0;
        double before = 0;
        double after = 0;
        double under = 0;
        for (int i = 0; i < size; i++) {
            error += Math.abs(tiles.newGap[i] - (gap[i] + dt * rate[i]));
            scale += Math.abs(gap[i]);
            before += film[i];
            after += tiles.newFilm[i];
            under += tiles.active[i] ? tiles.r[i] : 0;
        }
        massError = Math.max(massError, (Math.abs(after - before - mismatch.edgeInflow()) + Math.abs(under)) / before);
        for (int i = 0; i < size; i++) {
            rate[i] = (tiles.newGap[i] - gap[i]) / dt;
            gap[i] = tiles.newGap[i];
            film[i] = tiles.newFilm[i];
            pressed[i] = applied[i];
        }
        return error / scale;
    }

    /** Returns a view of the state after a step that was accepted, or of the beginning after a step of 0 s. */
    FilmState state(double time, double dt, double eta) {
        view.show(flow, time, dt, eta);
        return view;
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
