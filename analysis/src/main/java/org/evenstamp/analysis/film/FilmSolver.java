package org.evenstamp.analysis.film;

import java.util.Arrays;
import org.evenstamp.analysis.numeric.ProjectedCg;
import org.evenstamp.analysis.numeric.SmallCholesky;
import org.evenstamp.analysis.numeric.Team;
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
    private static final byte OPEN = 0; // the stamp stands clear of what could bear it
    private static final byte LAW = 1; // film is squeezed out from under the protrusions into cavities with room
    private static final byte FULL = 2; // the cavities are full
    private static final byte STOPPED = 3; // a particle holds the stamp

    private final FilmModel model;
    private final SolverOptions options;
    private final TileGrid grid;
    private final int size;
    private final int columns;
    private final Team team;
    private final StampCompliance stamp;
    private final TilePreconditioner preconditioner;
    private final ProjectedCg cg;
    private final TileLaw law;
    private final TileFlow flow;

    // The state at the end of the last accepted step.
    private final double[] film; // film per area H, uncompressed
    private final double[] gap; // h
    private final double[] rate;
    private final byte[] state;
    private final double[] q;

    // The step being tried.
    private final byte[] savedState;
    private final double[] savedQ;
    private final double[] applied;
    private final double[] predicted;
    private final double[] newFilm;
    private final double[] newGap;
    private final double[] yield;
    private final double[] pressure; // P
    private final double[] load;
    private final double[] back;
    private final double[] bend;
    private final double[] r;
    private final double[] dq;
    private final double[] shift;
    private final double[] image;
    private final boolean[] active;
    private final boolean[] full;
    private final int[] releases; // of a full tile during this step
    private final double[] share;
    private final double[] cubed;
    private final double[] cubedY;
    private final FilmState view;
    private final double[][] rigidShapes; // 1, and x and y when the stamp may tilt, on the whole map
    private final double[][] constraints; // the same on active tiles
    private final double[] rigid; // amounts of the rigid shapes
    private final double[] wedge;
    private final Team.Task operatorTask = this::operator;
    private double[] operatorIn = {};
    private double[] operatorOut = {};
    private double edgeInflow;
    private double mismatch;
    private double forceError;
    private int activeCount;

    private int newtonSteps;
    private int cgIterations;
    private int cgShortfalls;
    private double massError;

    /** Prepares a run. The team serves until {@link #run} returns. */
    public FilmSolver(FilmModel model, SolverOptions options, Team team) {
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
        film = new double[size];
        gap = new double[size];
        rate = new double[size];
        state = new byte[size];
        q = new double[size];
        savedState = new byte[size];
        savedQ = new double[size];
        applied = new double[size];
        predicted = new double[size];
        newFilm = new double[size];
        newGap = new double[size];
        yield = new double[size];
        pressure = new double[size];
        load = new double[size];
        back = new double[size];
        bend = new double[size];
        r = new double[size];
        dq = new double[size];
        shift = new double[size];
        image = new double[size];
        active = new boolean[size];
        full = new boolean[size];
        releases = new int[size];
        share = new double[size];
        cubed = new double[size];
        cubedY = new double[size];
        view = new FilmState(size, gap, rate, q, pressure);
        wedge = new double[size];
        int shapes = model.heldHeight != null ? 0 : model.freeTilt ? 3 : 1;
        rigidShapes = new double[shapes][size];
        constraints = new double[shapes][size];
        rigid = new double[shapes];
        double halfX = Math.max(0.5, (columns - 1) / 2.0);
        double halfY = Math.max(0.5, (grid.rows() - 1) / 2.0);
        for (int i = 0; i < size; i++) {
            double x = grid.column(i) - (columns - 1) / 2.0;
            double y = grid.row(i) - (grid.rows() - 1) / 2.0;
            wedge[i] = (model.wedgeX * x + model.wedgeY * y) * grid.pitchMetres();
            if (shapes > 0) {
                rigidShapes[0][i] = 1;
            }
            if (shapes == 3) {
                rigidShapes[1][i] = x / halfX;
                rigidShapes[2][i] = y / halfY;
            }
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
            if (steps + rejections >= options.stepBudget() || dt < shortest) {
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
        double h0 = model.filmThickness;
        double lift = 0; // the flat stamp comes down until it touches the film or the tallest particle
        for (int i = 0; i < size; i++) {
            lift = Math.max(lift, Math.max(h0, model.particleHeight[i]) - wedge[i]);
        }
        model.recipe.pressurePascal(0, applied);
        for (int i = 0; i < size; i++) {
            film[i] = h0;
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
    }

    private void restore() {
        System.arraycopy(savedState, 0, state, 0, size);
        System.arraycopy(savedQ, 0, q, 0, size);
    }

    /** Tries one step and returns the Newton steps it took, or -1 when it did not converge. */
    private int attempt(double time, double dt, double eta, Stage stage) {
        model.recipe.pressurePascal(time + dt, applied);
        stamp.applyBack(applied, back);
        law.begin(dt, eta, gap, film);
        for (int i = 0; i < size; i++) {
            double ahead = gap[i] + dt * rate[i];
            predicted[i] = Math.min(1.5 * gap[i], Math.max(0.6 * gap[i], ahead));
            cubed[i] = cubedGap(i, predicted[i], false);
            cubedY[i] = cubedGap(i, predicted[i], true);
            full[i] = state[i] == FULL;
            flow.blocked[i] = state[i] == STOPPED;
            double volume = model.cavityVolume[i];
            share[i] = volume > 0 ? Math.min(1, Math.max(0, film[i] - gap[i]) / volume) : 0;
            releases[i] = 0;
            newFilm[i] = film[i];
            newGap[i] = gap[i];
            if (state[i] == LAW) {
                q[i] = law.admissible(i, q[i], newFilm[i]);
            }
        }
        flow.begin(dt / (12 * eta), cubed, cubedY, full, share);
        double height = model.heldHeight == null ? 0 : model.heldHeight.applyAsDouble(time + dt);
        double tolerance = options.newtonTolerance() * model.filmThickness;
        int count = 0;
        while (true) {
            evaluate(height);
            boolean changed = switchTiles();
            if (changed) {
                evaluate(height);
            } else if (mismatch <= tolerance && forceError <= options.newtonTolerance()) {
                break;
            }
            if (count >= options.newtonBudget() || !Double.isFinite(mismatch)) {
                return -1;
            }
            count++;
            newtonSteps++;
            double wanted = Math.max(2e-3, Math.min(0.01, 0.1 * tolerance / Math.max(mismatch, 1e-300)));
            solve(wanted, stage);
            for (int i = 0; i < size; i++) {
                if (active[i]) {
                    // Downwards along the law itself: its tangent would overshoot to an enormous suction.
                    q[i] = state[i] == LAW && dq[i] < 0
                            ? law.pressure(i, newGap[i] - yield[i] * dq[i], newFilm[i])
                            : q[i] + dq[i];
                }
            }
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
    private void evaluate(double height) {
        for (int i = 0; i < size; i++) {
            full[i] = state[i] == FULL;
            // A full tile bears by its film's pressure alone: what it squeezed in the step in which it filled is over.
            pressure[i] = full[i] ? q[i] : law.meniscus(i, newGap[i], newFilm[i]);
            load[i] = q[i] - applied[i];
        }
        flow.connect(full);
        edgeInflow = flow.balance(pressure, full, film, newFilm);
        stamp.apply(q, bend);
        activeCount = 0;
        for (int i = 0; i < size; i++) {
            bend[i] += back[i];
            active[i] = state[i] != OPEN;
            switch (state[i]) {
                case FULL -> {
                    yield[i] = Math.max(film[i], model.cavityVolume[i]) / model.bulkModulus;
                    newGap[i] = newFilm[i] - model.cavityVolume[i];
                    r[i] = newGap[i] - yield[i] * pressure[i] - bend[i] - wedge[i];
                }
                case LAW -> {
                    newGap[i] = law.gap(i, q[i], newFilm[i]);
                    yield[i] = law.compliance(i, newGap[i], newFilm[i]);
                    r[i] = newGap[i] - bend[i] - wedge[i];
                }
                case STOPPED -> {
                    double top = model.particleHeight[i];
                    yield[i] = top / model.bulkModulus;
                    newGap[i] = top;
                    r[i] = top - yield[i] * (q[i] - law.pressureAtStop(i, top, newFilm[i])) - bend[i] - wedge[i];
                }
                default -> {
                    yield[i] = 0;
                    r[i] = 0;
                }
            }
            activeCount += active[i] ? 1 : 0;
        }
        settle(height);
    }

    /** Finds the stamp's height and tilt from the tiles that bear it, and what mismatch that leaves. */
    private void settle(double height) {
        int shapes = rigidShapes.length;
        double[] gram = new double[shapes * shapes];
        Arrays.fill(rigid, 0);
        for (int i = 0; i < size; i++) {
            if (active[i]) {
                for (int a = 0; a < shapes; a++) {
                    rigid[a] += rigidShapes[a][i] * r[i];
                    for (int b = 0; b < shapes; b++) {
                        gram[a * shapes + b] += rigidShapes[a][i] * rigidShapes[b][i];
                    }
                }
            }
        }
        if (activeCount > 0) {
            new SmallCholesky(gram, shapes).solve(rigid);
        }
        mismatch = 0;
        double scale = 0;
        double[] unbalanced = new double[shapes];
        for (int i = 0; i < size; i++) {
            double body = height;
            for (int a = 0; a < shapes; a++) {
                body += rigid[a] * rigidShapes[a][i];
                unbalanced[a] += rigidShapes[a][i] * load[i];
            }
            scale += Math.abs(applied[i]);
            if (active[i]) {
                r[i] -= body;
                mismatch = Math.max(mismatch, Math.abs(r[i]));
            } else {
                newGap[i] = body + bend[i] + wedge[i];
            }
        }
        forceError = 0;
        for (double moment : unbalanced) {
            forceError = Math.max(forceError, Math.abs(moment) / Math.max(scale, 1e-300));
        }
    }

    /** Lets tiles fill, open, touch and stop where what they do no longer fits; returns whether any did. */
    private boolean switchTiles() {
        boolean changed = false;
        double hair = 1e-9 * model.filmThickness;
        for (int i = 0; i < size; i++) {
            double volume = model.cavityVolume[i];
            double top = model.particleHeight[i];
            byte now = state[i];
            byte then = now;
            switch (now) {
                case LAW -> {
                    if (top > 0 && newGap[i] < top - hair) {
                        then = STOPPED;
                    } else if (newFilm[i] - newGap[i] > volume + hair) {
                        then = FULL;
                    } else if (q[i] < law.base(i, newGap[i], newFilm[i]) && !law.holds(i)) {
                        then = OPEN;
                    }
                }
                case FULL -> {
                    if (top > 0 && newGap[i] < top - hair && q[i] > 0) {
                        then = STOPPED;
                    } else if (q[i] < law.meniscusWhenFull(i, newFilm[i]) + suctionBorne(i)) {
                        then = law.bears(i) && volume > 0 ? LAW : OPEN;
                        releases[i]++;
                    }
                }
                case STOPPED -> {
                    if (q[i] < law.pressureAtStop(i, top, newFilm[i])) {
                        then = law.bears(i) && volume > 0 ? LAW : OPEN;
                    }
                }
                default -> {
                    if (top > 0 && newGap[i] < top - hair) {
                        then = STOPPED;
                    } else if (law.bears(i) && volume > 0) {
                        then = newGap[i] < law.touch(i) - hair ? LAW : OPEN;
                    } else if (newFilm[i] - newGap[i] > volume + hair) {
                        then = FULL;
                    }
                }
            }
            if (then != now) {
                changed = true;
                state[i] = then;
                if (then == OPEN) {
                    q[i] = law.base(i, newGap[i], newFilm[i]);
                } else if (then == LAW) {
                    q[i] = law.admissible(i, Math.max(q[i], law.base(i, law.touch(i), newFilm[i])), newFilm[i]);
                }
            }
        }
        if (rigidShapes.length > 0 && !anyBears()) {
            changed |= seat();
        }
        return changed;
    }

    /**
     * Returns the suction under which a full tile stays full. A tile that inflow lifts has no place on either side of zero
     * pressure: as a tile with room it overflows, as a full one it is sucked on. One that came back twice may stay full
     * under no more suction than its land takes.
     */
    private double suctionBorne(int i) {
        return releases[i] < 2 ? 0 : law.suction(i, newFilm[i] - model.cavityVolume[i]);
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
        preconditioner.prepare(yield, flow.diagonal, active);
        int shapes = rigidShapes.length;
        double[] gram = new double[shapes * shapes];
        double[] amount = new double[shapes];
        for (int i = 0; i < size; i++) {
            for (int a = 0; a < shapes; a++) {
                constraints[a][i] = active[i] ? rigidShapes[a][i] : 0;
                amount[a] -= rigidShapes[a][i] * load[i];
                for (int b = 0; b < shapes; b++) {
                    gram[a * shapes + b] += active[i] ? rigidShapes[a][i] * rigidShapes[b][i] : 0;
                }
            }
        }
        new SmallCholesky(gram, shapes).solve(amount);
        boolean shifted = false;
        Arrays.fill(shift, 0);
        for (int a = 0; a < shapes; a++) {
            shifted |= amount[a] != 0;
            for (int i = 0; i < size; i++) {
                shift[i] += amount[a] * constraints[a][i];
            }
        }
        if (shifted) {
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

    private void apply(double[] in, double[] out) {
        stamp.apply(in, out);
        operatorIn = in;
        operatorOut = out;
        team.run(operatorTask, grid.rows());
    }

    private void operator(int from, int to, int member) {
        flow.addTo(operatorOut, operatorIn, from, to);
        for (int i = from * columns; i < to * columns; i++) {
            operatorOut[i] = active[i] ? operatorOut[i] + yield[i] * operatorIn[i] : 0;
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
        }
        return error / scale;
    }

    private void show(FilmObserver observer, double time, double dt, double eta) {
        double mean = 0;
        for (int i = 0; i < size; i++) {
            view.full[i] = state[i] == FULL;
            view.filled[i] = view.full[i]
                    ? model.cavityVolume[i]
                    : Math.min(model.cavityVolume[i], Math.max(0, film[i] - gap[i]));
            mean += bend[i] / size;
        }
        for (int i = 0; i < size; i++) {
            view.deflection[i] = bend[i] - mean;
        }
        if (dt > 0) {
            flow.magnitude(pressure, view.full, dt, view.flux);
        }
        view.seconds = time;
        view.stepSeconds = dt;
        view.viscosity = eta;
        observer.accepted(view);
    }
}
