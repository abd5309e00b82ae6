package org.evenstamp.analysis.film;

import static org.evenstamp.analysis.film.TileStep.FULL;
import static org.evenstamp.analysis.film.TileStep.LAW;
import static org.evenstamp.analysis.film.TileStep.OPEN;
import static org.evenstamp.analysis.film.TileStep.STOPPED;

import java.util.Arrays;
import org.evenstamp.analysis.numeric.ProjectedCg;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;

/**
 * Steps a film under an elastic stamp through time, implicitly, conserving its mass.
 *
 * <p>The unknown is the pressure q of each tile on the stamp. The stamp stands at {@code z + G(q - p)}; the film says at
 * which gap it bears q ({@link TileLaw}); each time step makes both agree, with the force balanced. Newton's equation is
 * {@code (G + C + Δt L) δq + δz = r}, symmetric and positive definite, solved by conjugate gradients on the pressures that
 * keep the balance. Which tiles are full, stopped by a particle or out of touch is settled along with Newton's iteration.
 * A step that does not converge is cut; every budget that was hit is in the report.
 *
 * <p>One solver runs once, from one thread.
 */
public final class FilmSolver {
    // Share of the wall's stress at which a film between plates flows as one with one viscosity: 0.73 to 0.78 for power
    // laws of exponents 0.7 to 0.3, by the slit integral of Rabinowitsch.
    private static final double FLOW_STRESS = 0.75;

    private final FilmModel model;
    private final SolverOptions options;
    private final TileGrid grid;
    private final int size;
    private final int columns;
    private final ThreadTeam team;
    private final StampCompliance stamp;
    private final TilePreconditioner preconditioner;
    private final ProjectedCg cg;
    private final TileLaw law;
    private final TileFlow flow;
    private final TileStep tiles;

    // The state at the end of the last accepted step.
    private final double[] film; // film per area H, uncompressed
    private final double[] gap; // h
    private final double[] rate;
    private final byte[] state;
    private final double[] q;

    // The step being tried.
    private final byte[] savedState;
    private final double[] savedQ;
    private final double[] savedPressure;
    private final double[] applied;
    private final double[] pressed; // on the back when the step begins
    private final double[] squeeze; // pressure that squeezed the film when the step begins
    private final double[] predicted;
    private final double[] newFilm;
    private final double[] newGap;
    private final double[] yield;
    private final double[] pressure; // P
    private final double[] back;
    private final double[] bend;
    private final double[] r;
    private final double[] dq;
    private final double[] shift;
    private final double[] image;
    private final boolean[] active;
    private final boolean[] full;
    private final double[] share;
    private final double[] cubed;
    private final double[] cubedY;
    private final FilmState view;
    private final RigidMotion motion;
    private final double[][] constraints; // its shapes on active tiles
    private final double[] wedge;
    private final double[] largest; // mismatch in each row
    private final double[] inflow; // over the rim, in each row
    private final ThreadTeam.Task beginTask = this::begin;
    private final ThreadTeam.Task pressTask = this::press;
    private final ThreadTeam.Task compareTask = this::compare;
    private final ThreadTeam.Task lowerTask = this::lower;
    private final ThreadTeam.Task constrainTask = this::constrain;
    private final ThreadTeam.Task advanceTask = this::advance;
    private final ThreadTeam.Task operatorTask = this::operator;
    private double[] balancing = {};
    private double[] operatorIn = {};
    private double[] operatorOut = {};
    private double stepSeconds;
    private double viscosity;
    private double height;
    private double edgeInflow;
    private double mismatch;
    private double forceError;

    private int newtonSteps;
    private int cgIterations;
    private int cgShortfalls;
    private double massError;
    private boolean resting; // nothing has pressed or pulled on the stamp yet

    /** Prepares a run. The team serves until {@link #run} returns. */
    public FilmSolver(FilmModel model, SolverOptions options, ThreadTeam team) {
        this.model = model;
        this.options = options;
        this.team = team;
        grid = model.grid;
        size = grid.size();
        columns = grid.columns();
        stamp = new StampCompliance(model.stamp, grid, model.surround, team);
        preconditioner = new TilePreconditioner(stamp, grid, team);
        cg = new ProjectedCg(size, team);
        law = new TileLaw(model);
        flow = new TileFlow(model);
        tiles = new TileStep(model, law);
        film = tiles.film;
        gap = tiles.gap;
        rate = new double[size];
        state = tiles.state;
        q = tiles.q;
        savedState = new byte[size];
        savedQ = new double[size];
        savedPressure = new double[size];
        applied = new double[size];
        pressed = new double[size];
        squeeze = new double[size];
        predicted = new double[size];
        newFilm = tiles.newFilm;
        newGap = tiles.newGap;
        yield = tiles.yield;
        pressure = tiles.pressure;
        back = new double[size];
        bend = tiles.bend;
        r = tiles.r;
        dq = new double[size];
        shift = new double[size];
        image = new double[size];
        active = tiles.active;
        full = tiles.full;
        share = new double[size];
        cubed = new double[size];
        cubedY = new double[size];
        view = new FilmState(size, gap, film, rate, q, pressure);
        wedge = tiles.wedge;
        motion = new RigidMotion(model);
        constraints = new double[motion.shapes.length][size];
        largest = new double[grid.rows()];
        inflow = new double[grid.rows()];
        for (int i = 0; i < size; i++) {
            double x = grid.column(i) - (columns - 1) / 2.0;
            double y = grid.row(i) - (grid.rows() - 1) / 2.0;
            wedge[i] = (model.wedgeX * x + model.wedgeY * y) * grid.pitchMetres();
        }
    }

    /**
     * Runs to the recipe's end.
     *
     * @param stopsSeconds times at which a step must end, in any order
     * @param observer sees every accepted step
     * @param stage counts conjugate-gradient iterations, and is where the run can be interrupted
     */
    public RunReport run(double[] stopsSeconds, FilmObserver observer, Stage stage) {
        double end = model.recipe.endSeconds();
        double[] stops = Arrays.stream(concat(concat(stopsSeconds, model.recipe.breaks()), new double[] {end}))
                .filter(t -> t > 0 && t <= end)
                .sorted()
                .distinct()
                .toArray();
        start();
        show(observer, 0, 0, model.recipe.viscosityPascalSeconds(0));
        double time = 0;
        double dt = options.firstStepShare() * end;
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
            double step = lands ? rest : 2 * dt > rest ? rest / 2 : dt;
            double eta = model.recipe.viscosityPascalSeconds(time + step / 2);
            save();
            int newton = attempt(time, step, eta, stage);
            if (newton < 0) {
                restore();
                rejections++;
                dt = step / 4;
                continue;
            }
            time = lands ? stops[next] : time + step;
            if (lands) {
                next++;
            }
            steps++;
            double error = accept(step);
            show(observer, time, step, eta);
            double factor = Math.sqrt(options.timeTolerance() / Math.max(error, 1e-30));
            factor = Math.min(options.growth(), Math.max(0.5, factor));
            if (newton > 15) {
                factor = Math.min(factor, 0.7);
            } else if (newton > 9) {
                factor = Math.min(factor, 1);
            }
            // A step cut short to land on a stop says nothing against the longer one.
            dt = step < dt && factor >= 1 ? Math.max(dt, step * factor) : step * factor;
        }
        return new RunReport(time, steps, rejections, newtonSteps, cgIterations, cgShortfalls, massError, complete);
    }

    private static double[] concat(double[] a, double[] b) {
        double[] both = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, both, a.length, b.length);
        return both;
    }

    private void start() {
        double lift = 0; // the flat stamp comes down until it touches the film or the tallest particle
        for (int i = 0; i < size; i++) {
            lift = Math.max(lift, Math.max(model.thickness[i], model.particleHeight[i]) - wedge[i]);
        }
        model.recipe.pressurePascal(0, applied);
        System.arraycopy(applied, 0, pressed, 0, size);
        resting = model.heldHeight == null
                && Arrays.stream(model.capillaryPressure).allMatch(p -> p == 0);
        for (int i = 0; i < size; i++) {
            film[i] = model.thickness[i];
            gap[i] = lift + wedge[i];
            if (model.particleHeight[i] > 0 && model.particleHeight[i] >= gap[i] * (1 - 1e-12)) {
                state[i] = STOPPED;
            } else if (model.cavityVolume[i] == 0) {
                state[i] = FULL;
            } else {
                state[i] = law.bears(i) ? LAW : OPEN;
            }
            q[i] = state[i] == OPEN ? 0 : applied[i];
        }
    }

    private void save() {
        System.arraycopy(state, 0, savedState, 0, size);
        System.arraycopy(q, 0, savedQ, 0, size);
        System.arraycopy(pressure, 0, savedPressure, 0, size);
    }

    private void restore() {
        System.arraycopy(savedState, 0, state, 0, size);
        System.arraycopy(savedQ, 0, q, 0, size);
        System.arraycopy(savedPressure, 0, pressure, 0, size);
    }

    private void begin(int from, int to, int member) {
        boolean thins = !(model.thinning instanceof ShearThinning.None);
        for (int i = from * columns; i < to * columns; i++) {
            squeeze[i] = state[i] == LAW ? q[i] - pressure[i] : 0;
            double ahead = gap[i] + stepSeconds * rate[i];
            predicted[i] = Math.min(1.5 * gap[i], Math.max(0.6 * gap[i], ahead));
            cubed[i] = cubedGap(i, predicted[i], false);
            cubedY[i] = cubedGap(i, predicted[i], true);
            if (thins) {
                double stress = 0.5 * Math.cbrt(Math.max(cubed[i], cubedY[i])) * flow.slope(pressure, i);
                double faster = viscosity / model.thinning.underStress(viscosity, FLOW_STRESS * stress);
                cubed[i] *= faster;
                cubedY[i] *= faster;
            }
            full[i] = state[i] == FULL;
            flow.blocked[i] = state[i] == STOPPED;
            double volume = model.cavityVolume[i];
            share[i] = volume > 0 ? Math.min(1, Math.max(0, film[i] - gap[i]) / volume) : 0;
        }
        law.begin(stepSeconds, viscosity, squeeze, gap, film, from * columns, to * columns);
    }

    /** Tries one step and returns the Newton steps it took, or -1 when it did not converge. */
    private int attempt(double time, double dt, double eta, Stage stage) {
        model.recipe.pressurePascal(time + dt, applied);
        resting &= Arrays.stream(applied).allMatch(p -> p == 0);
        if (resting) {
            // The stamp lies on the film and moves nothing; where it touches is settled when it is pressed.
            System.arraycopy(film, 0, newFilm, 0, size);
            System.arraycopy(gap, 0, newGap, 0, size);
            return 0;
        }
        stamp.applyBack(applied, back);
        stepSeconds = dt;
        viscosity = eta;
        team.run(beginTask, grid.rows());
        if (model.stamp.isPressedOnBack()) {
            for (int i = 0; i < size; i++) {
                q[i] += state[i] == OPEN ? 0 : applied[i] - pressed[i]; // the back passes it on: a nearby guess
            }
        }
        tiles.begin();
        flow.begin(dt / (12 * eta), cubed, cubedY, full, share);
        height = model.heldHeight == null ? 0 : model.heldHeight.applyAsDouble(time + dt);
        double tolerance = options.newtonTolerance() * model.filmThickness;
        int count = 0;
        while (true) {
            evaluate();
            boolean switching = switchTiles();
            if (switching) {
                evaluate();
            }
            if (!switching && mismatch <= tolerance && forceError <= options.newtonTolerance()) {
                break;
            }
            if (count >= options.newtonBudget() || !Double.isFinite(mismatch)) {
                return -1;
            }
            count++;
            newtonSteps++;
            double wanted = Math.max(1e-3, Math.min(0.01, 0.1 * tolerance / Math.max(mismatch, 1e-300)));
            solve(wanted, stage);
            team.run(advanceTask, grid.rows());
        }
        return drainedTooFar() ? -1 : count;
    }

    private double cubedGap(int i, double h, boolean alongY) {
        double share = model.cavityFraction[i];
        double depth = share > 0 ? model.cavityVolume[i] / share : 0;
        double floor = 1e-3 * model.filmThickness; // a roof that hangs down between protrusions
        double open = Math.max(h, share < 1 ? 1e-12 : floor - depth);
        double angle = model.lineAngle[i];
        if (Double.isNaN(angle)) {
            return model.mobility.cubedGap(share, open, depth);
        }
        double cos = alongY ? Math.sin(angle) : Math.cos(angle);
        double along = Mobility.PARALLEL.cubedGap(share, open, depth);
        double across = Mobility.SERIES.cubedGap(share, open, depth);
        return across + (along - across) * cos * cos;
    }

    /** From q and the tile states: film, gaps, the stamp's shape and the mismatch between them. */
    private void evaluate() {
        team.run(pressTask, grid.rows());
        stamp.apply(q, bend);
        team.run(compareTask, grid.rows());
        motion.settle();
        team.run(lowerTask, grid.rows());
        mismatch = 0;
        edgeInflow = 0;
        for (int row = 0; row < grid.rows(); row++) {
            mismatch = Math.max(mismatch, largest[row]);
            edgeInflow += inflow[row];
        }
        forceError = motion.forceError();
    }

    private void press(int from, int to, int member) {
        tiles.press(from * columns, to * columns);
    }

    private void compare(int from, int to, int member) {
        flow.connect(full, from, to);
        flow.balance(pressure, full, film, newFilm, inflow, from, to);
        for (int i = from * columns; i < to * columns; i++) {
            bend[i] += back[i];
        }
        tiles.compare(from * columns, to * columns);
        motion.sum(r, active, q, applied, from, to);
    }

    /** Takes the height of the stamp off the mismatch; under a stamp that is clear the gap is what it leaves. */
    private void lower(int from, int to, int member) {
        for (int row = from; row < to; row++) {
            largest[row] = 0;
            for (int i = row * columns; i < (row + 1) * columns; i++) {
                double body = height + motion.height(i);
                if (active[i]) {
                    r[i] -= body;
                    largest[row] = Math.max(largest[row], Math.abs(r[i]));
                } else {
                    newGap[i] = body + bend[i] + wedge[i];
                }
            }
        }
    }

    private void advance(int from, int to, int member) {
        for (int i = from * columns; i < to * columns; i++) {
            if (active[i]) {
                tiles.advance(i, dq[i]);
            }
        }
    }

    /** Lets tiles fill, open, touch and stop where what they do no longer fits; returns whether any did. */
    private boolean switchTiles() {
        boolean changed = false;
        for (int i = 0; i < size; i++) {
            changed |= tiles.switchTile(i);
        }
        if (motion.shapes.length > 0 && !anyBears()) {
            changed |= seat();
        }
        return changed;
    }

    private boolean anyBears() {
        for (byte s : state) {
            if (s != OPEN) {
                return true;
            }
        }
        return false;
    }

    /** Lets the falling stamp land on what stands highest. */
    private boolean seat() {
        double highest = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < size; i++) {
            highest = Math.max(highest, support(i) - bend[i] - wedge[i]);
        }
        for (int i = 0; i < size; i++) {
            if (support(i) - bend[i] - wedge[i] >= highest - 1e-9 * model.filmThickness) {
                boolean squeezes = law.bears(i) && model.cavityVolume[i] > 0;
                state[i] = model.particleHeight[i] >= support(i) ? STOPPED : squeezes ? LAW : FULL;
            }
        }
        return true;
    }

    private double support(int i) {
        double soft = law.bears(i) && model.cavityVolume[i] > 0 ? law.touch(i) : newFilm[i] - model.cavityVolume[i];
        return Math.max(soft, model.particleHeight[i] > 0 ? model.particleHeight[i] : Double.NEGATIVE_INFINITY);
    }

    /** Solves Newton's equation for {@code dq}. */
    private void solve(double reduction, Stage stage) {
        preconditioner.prepare(yield, flow, active);
        balancing = motion.balancing();
        team.run(constrainTask, grid.rows());
        if (Arrays.stream(balancing).anyMatch(a -> a != 0)) {
            apply(shift, image);
            for (int i = 0; i < size; i++) {
                r[i] -= image[i];
            }
        }
        ProjectedCg.Report report = cg.solve(
                this::apply,
                preconditioner::apply,
                constraints,
                r,
                dq,
                reduction,
                options.cgBudget(),
                () -> stage.advance(1));
        cgIterations += report.iterations();
        cgShortfalls += report.converged() ? 0 : 1;
        for (int i = 0; i < size; i++) {
            dq[i] += shift[i];
        }
    }

    /** Writes the rigid motion's shapes on the tiles that bear, and the pressures there that balance the forces. */
    private void constrain(int from, int to, int member) {
        for (int i = from * columns; i < to * columns; i++) {
            shift[i] = 0;
            for (int a = 0; a < constraints.length; a++) {
                constraints[a][i] = active[i] ? motion.shapes[a][i] : 0;
                shift[i] += balancing[a] * constraints[a][i];
            }
        }
    }

    private void apply(double[] in, double[] out) {
        stamp.apply(in, out);
        operatorIn = in;
        operatorOut = out;
        team.run(operatorTask, grid.rows());
    }

    private void operator(int from, int to, int member) {
        for (int row = from; row < to; row++) { // one by one: a row stays in the cache
            flow.addTo(operatorOut, operatorIn, row, row + 1);
            for (int i = row * columns; i < (row + 1) * columns; i++) {
                operatorOut[i] = active[i] ? operatorOut[i] + yield[i] * operatorIn[i] : 0;
            }
        }
    }

    /** Returns whether a full tile lost so much film that the mobility it was given no longer fits. */
    private boolean drainedTooFar() {
        for (int i = 0; i < size; i++) {
            if (state[i] == FULL
                    && newFilm[i] < film[i] - 1e-3 * model.filmThickness
                    && cubedGap(i, newGap[i], false) < 0.1 * cubed[i]) {
                return true;
            }
        }
        return false;
    }

    /** Makes the step's end the state and returns the error of the extrapolation. */
    private double accept(double dt) {
        double error = 0;
        double scale = 0;
        double before = 0;
        double after = 0;
        double under = 0;
        for (int i = 0; i < size; i++) {
            error += Math.abs(newGap[i] - (gap[i] + dt * rate[i]));
            scale += Math.abs(gap[i]);
            before += film[i];
            after += newFilm[i];
            under += active[i] ? r[i] : 0;
        }
        massError = Math.max(massError, (Math.abs(after - before - edgeInflow) + Math.abs(under)) / before);
        for (int i = 0; i < size; i++) {
            rate[i] = (newGap[i] - gap[i]) / dt;
            gap[i] = newGap[i];
            film[i] = newFilm[i];
            pressed[i] = applied[i];
        }
        return error / scale;
    }

    private void show(FilmObserver observer, double time, double dt, double eta) {
        double mean = 0;
        for (int i = 0; i < size; i++) {
            view.full[i] = state[i] == FULL;
            // Where a roof without protrusions hangs lower than these would reach, all film is in the cavity.
            double over = view.full[i] && gap[i] >= 0 ? model.cavityVolume[i] : film[i] - Math.max(0, gap[i]);
            view.filled[i] = Math.min(model.cavityVolume[i], Math.max(0, over));
            mean += bend[i] / size;
        }
        for (int i = 0; i < size; i++) {
            view.deflection[i] = bend[i] - mean;
        }
        if (dt > 0) {
            flow.tell(pressure, view.full, dt, view.flux, view.inflow);
        }
        view.seconds = time;
        view.stepSeconds = dt;
        view.viscosity = eta;
        observer.accepted(view);
    }
}
