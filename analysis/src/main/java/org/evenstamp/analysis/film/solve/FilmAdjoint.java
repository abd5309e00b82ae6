package org.evenstamp.analysis.film.solve;

import static org.evenstamp.analysis.film.solve.TileStates.FULL;
import static org.evenstamp.analysis.film.solve.TileStates.LAW;
import static org.evenstamp.analysis.film.solve.TileStates.OPEN;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.shared.progress.Stage;

/**
 * The film solve asked backwards: one sweep through the steps of a run, from the last to the first, tells how a goal goes with
 * everything that went into the solve. Each step takes one linear solve a goal, with the matrix and the preconditioner of the
 * way there (discrete adjoint; derived).
 *
 * <p>It is the derivative of what the solver computed, at the time steps it took. Where a tile changes its state within a step
 * the goal has a kink, and the derivative is that of one side.
 */
public final class FilmAdjoint {
    private final SolverInput input;
    private final FilmTape tape;
    private final ThreadTeam team;
    private final double reduction;
    private final int size;
    private final StampCompliance stamp;
    private final RigidMotion motion;
    private final StepViscosity viscosity;
    private final TileLaw law;
    private final TileFlow flow;
    private final TileStates tiles;
    private final GapMobility mobility;
    private final NewtonSystem newton;
    private final LawSlopes lawSlopes;
    private final StepAdjoint step;
    private final double[] rate;
    private final double[] applied;
    private final boolean[] fullAtStart;
    private final double[] unstressed;
    private final double[] inflow;

    /**
     * Prepares a way back.
     *
     * @param input what was solved; {@link #refusal} must be empty
     * @param tape of the run
     * @param reduction wanted reduction of the residuals of the linear solves
     */
    public FilmAdjoint(SolverInput input, FilmTape tape, double reduction, ThreadTeam team) {
        refusal(input).ifPresent(reason -> {
            throw new IllegalArgumentException(reason);
        });
        this.input = input;
        this.tape = tape;
        this.team = team;
        this.reduction = reduction;
        size = input.grid.size();
        stamp = new StampCompliance(input.stamp, input.grid, input.surround, team);
        motion = new RigidMotion(input);
        viscosity = new StepViscosity(input.load, size);
        law = new TileLaw(input);
        flow = new TileFlow(input);
        tiles = new TileStates(input, law);
        mobility = new GapMobility(input);
        newton = new NewtonSystem(stamp, motion, tiles, flow, input.grid, team);
        lawSlopes = new LawSlopes(input, law);
        rate = new double[size];
        applied = new double[size];
        fullAtStart = new boolean[size];
        unstressed = new double[size];
        inflow = new double[input.grid.rows()];
        step = new StepAdjoint(
                input, new StepAdjoint.Parts(stamp, motion, law, flow, tiles, mobility, newton, lawSlopes, viscosity));
    }

    /** Returns why the way back of an input is not known; empty where it is. */
    public static Optional<String> refusal(SolverInput input) {
        if (input.gasPressure > 0) {
            return Optional.of("the sealed gas in the cavities (process.gas-pressure) has no way back yet");
        }
        if (!(input.thinning instanceof ShearThinning.None)) {
            return Optional.of("a film that thins under shear has no way back yet");
        }
        if (Arrays.stream(input.particleHeight).anyMatch(height -> height > 0)) {
            return Optional.of("particles between stamp and substrate (process.particles) have no way back yet");
        }
        if (input.heldHeight != null) {
            return Optional.of("a stamp that is held at a height has no way back yet");
        }
        return Optional.empty();
    }

    /** Returns the lengths of the steps in which another input passes what the run on a tape passed in its steps, in s. */
    public static double[] stepsOf(SolverInput input, FilmTape tape, SolverInput other) {
        StepWarp warp = new StepWarp(input.load, other.load);
        double[] starts = tape.startSeconds();
        double[] lengths = tape.stepSeconds();
        double[] steps = new double[lengths.length];
        for (int n = 0; n < steps.length; n++) {
            steps[n] = warp.at(starts[n] + lengths[n]) - warp.at(starts[n]);
        }
        return steps;
    }

    /**
     * Goes back.
     *
     * @param goals of each goal the derivative by the residual layer of each tile at the end
     * @param others inputs that differ a little: the change of each goal towards them is told too. Their tiles, links of land,
     *     surround and kind of stamp must be those of the input
     * @param stage counts conjugate-gradient iterations, and is where the work can be interrupted
     */
    public List<FilmGradient> back(List<double[]> goals, List<SolverInput> others, Stage stage) {
        return back(goals, Optional.empty(), others, stage);
    }

    /**
     * Does the same, and goes back from the time of filling on the tape too: its gradient is the last, and not there where nothing
     * fills at that time.
     */
    public List<FilmGradient> back(
            List<double[]> goals, Optional<FillingTime> filling, List<SolverInput> others, Stage stage) {
        int steps = tape.length();
        List<StepAdjoint.Way> ways = new ArrayList<>();
        FilmTape.Step end = tape.step(steps);
        for (double[] goal : goals) {
            StepAdjoint.Way way = new StepAdjoint.Way(new FilmGradient(input, steps, others.size()), size);
            for (int i = 0; i < size; i++) {
                double least = Math.min(end.landGap()[i], end.film()[i]);
                if (least > 0) {
                    (end.landGap()[i] <= end.film()[i] ? way.landGap : way.film)[i] = goal[i];
                }
            }
            ways.add(way);
        }
        findSetPressures();
        StepAdjoint.Way ofFilling = new StepAdjoint.Way(new FilmGradient(input, steps, others.size()), size);
        List<OtherInput> turned =
                others.stream().map(other -> new OtherInput(input, other, team)).toList();
        for (int n = steps; n >= 1; n--) {
            FilmTape.Step now = tape.step(n);
            if (filling.isPresent() && n == filling.get().step()) {
                filling.get().begin(now, ofFilling);
                ways.add(ofFilling);
            }
            if (now.resting()) {
                ways.forEach(way -> Arrays.fill(way.rate, 0));
                stage.advance(0);
                continue;
            }
            prepare(n);
            turned.forEach(other -> other.turnTo(now, stamp, tiles.q, applied));
            for (StepAdjoint.Way way : ways) {
                step.back(way, now, tape.step(n - 1), rate, reduction, stage);
                step.load(way, n - 1, applied, turned);
            }
        }
        for (StepAdjoint.Way way : ways) {
            beginning(way);
            for (int k = 0; k < others.size(); k++) {
                way.gradient.addMaps(k, others.get(k));
            }
        }
        if (filling.isPresent() && filling.get().rate(tape, ofFilling.gradient) > 0) {
            filling.get().end(input, tape, ofFilling.gradient, others);
        } else {
            ways.remove(ofFilling);
        }
        return ways.stream().map(way -> way.gradient).toList();
    }

    /** Finds what pressed on each tile when its film set. */
    private void findSetPressures() {
        boolean[] set = new boolean[size];
        for (int n = 1; n <= tape.length() && viscosity.differs(); n++) {
            FilmTape.Step step = tape.step(n);
            FilmTape.Step before = tape.step(n - 1);
            viscosity.turnTo(step.startSeconds(), step.stepSeconds());
            for (int i = 0; i < size; i++) {
                if (viscosity.hasSet(i) && !set[i]) {
                    set[i] = true;
                    tiles.setPressure[i] = before.state()[i] == OPEN ? 0 : before.pressure()[i];
                }
            }
        }
    }

    /** Brings the solver's parts to where they were at the end of a step. */
    private void prepare(int n) {
        FilmTape.Step end = tape.step(n);
        FilmTape.Step start = tape.step(n - 1);
        double dt = end.stepSeconds();
        if (viscosity.differs()) {
            viscosity.turnTo(end.startSeconds(), dt);
        } else {
            viscosity.set(end.viscosity());
        }
        double eta = viscosity.least();
        input.load.pressurePascal(end.startSeconds() + dt, applied);
        Arrays.fill(rate, 0);
        if (n > 1) {
            double[] before = tape.step(n - 2).landGap();
            double last = start.stepSeconds();
            Arrays.setAll(rate, i -> (start.landGap()[i] - before[i]) / last);
        }
        System.arraycopy(start.state(), 0, tiles.state, 0, size);
        System.arraycopy(start.film(), 0, tiles.film, 0, size);
        System.arraycopy(start.landGap(), 0, tiles.landGap, 0, size);
        copyOrZero(start.sagging(), tiles.sagging);
        for (int i = 0; i < size; i++) {
            tiles.set[i] = viscosity.hasSet(i);
        }
        mobility.begin(dt, viscosity, tiles, rate, flow, 0, size);
        law.begin(dt, viscosity, unstressed, tiles.landGap, tiles.film, 0, size);
        System.arraycopy(tiles.full, 0, fullAtStart, 0, size);
        flow.begin(dt / (12 * eta), mobility, tiles.full);
        step.begin(dt / (12 * eta), fullAtStart);
        System.arraycopy(end.state(), 0, tiles.state, 0, size);
        System.arraycopy(end.pressure(), 0, tiles.q, 0, size);
        System.arraycopy(end.landGap(), 0, tiles.newGap, 0, size);
        System.arraycopy(end.film(), 0, tiles.newFilm, 0, size);
        copyOrZero(end.held(), tiles.held);
        tiles.press(0, size);
        int rows = input.grid.rows();
        flow.connect(tiles.full, tiles.bearing, 0, rows);
        flow.balance(tiles, inflow, 0, rows);
        for (int i = 0; i < size; i++) {
            tiles.active[i] = tiles.state[i] != OPEN;
            if (tiles.state[i] == FULL) {
                tiles.newGap[i] = tiles.newFilm[i] - input.cavityVolume[i];
                tiles.yield[i] = Math.max(tiles.film[i], input.cavityVolume[i]) / input.bulkModulus;
            } else if (tiles.state[i] == LAW && tiles.set[i]) {
                tiles.yield[i] = law.touch(i) / input.bulkModulus + input.sag[i];
            } else if (tiles.state[i] == LAW) {
                lawSlopes.take(i, end.landGap()[i] - tiles.aside[i]);
                tiles.yield[i] = -1 / lawSlopes.gap + input.sag[i];
            } else {
                tiles.yield[i] = 0;
            }
        }
        motion.sum(tiles.yield, tiles.active, tiles.q, applied, 0, rows);
        motion.settle();
        newton.prepare();
    }

    private static void copyOrZero(double[] from, double[] to) {
        if (from.length == 0) {
            Arrays.fill(to, 0);
        } else {
            System.arraycopy(from, 0, to, 0, to.length);
        }
    }

    /**
     * Goes on from the stamp that has come down on the film to what was coated. Where several tiles touch it first, as on an even
     * film, none of them is before the others: each counts alike.
     */
    private void beginning(StepAdjoint.Way way) {
        double highest = Double.NEGATIVE_INFINITY;
        double sum = 0;
        for (int i = 0; i < size; i++) {
            highest = Math.max(highest, standing(i));
            sum += way.landGap[i];
            way.gradient.thickness[i] += way.film[i];
        }
        int touching = 0;
        for (int i = 0; i < size; i++) {
            touching += standing(i) == highest ? 1 : 0;
        }
        for (int i = 0; i < size; i++) {
            double part = standing(i) == highest ? sum / touching : 0;
            way.gradient.thickness[i] += part;
            step.wedge(way, i, way.landGap[i] - part);
        }
    }

    /** Returns how high the film of a tile stands under the stamp before anything moves. */
    private double standing(int i) {
        return input.thickness[i] - tiles.wedge[i];
    }
}
