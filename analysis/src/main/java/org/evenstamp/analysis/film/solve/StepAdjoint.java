package org.evenstamp.analysis.film.solve;

import static org.evenstamp.analysis.film.solve.TileStates.FULL;
import static org.evenstamp.analysis.film.solve.TileStates.LAW;
import static org.evenstamp.analysis.film.solve.TileStates.OPEN;

import java.util.Arrays;
import java.util.List;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.shared.progress.Stage;

/**
 * One time step backwards: from the derivatives of a goal by the state at the step's end to those by the state at its beginning,
 * and by all that goes into the step.
 *
 * <p>With the residual r of Newton's equation and its matrix A the multipliers μ solve {@code A μ = g + S π}, g the goal's
 * derivative by the pressures and S the shapes of the stamp's free motion, under {@code Sᵀ(μ - β) = 0}, β the derivatives by the
 * gaps of tiles that the stamp does not rest on.
 */
final class StepAdjoint {
    private static final int BUDGET = 2000;
    private static final int MOST_ROUNDS = 6;

    /** The solver's parts, brought to the end of a step. */
    record Parts(
            StampCompliance stamp,
            RigidMotion motion,
            TileLaw law,
            TileFlow flow,
            TileStates tiles,
            GapMobility mobility,
            NewtonSystem newton,
            LawSlopes lawSlopes,
            StepViscosity viscosity) {}

    /** One goal on its way back: its derivatives by the film's state, and those found so far. */
    static final class Way {
        final FilmGradient gradient;
        final double[] film;
        final double[] landGap;
        final double[] rate;
        final double[] sagging;
        final double[] setPressure; // on the stamp where and when the film set
        final double[] multipliers; // of the step that was taken back last
        final double[] body; // by where the stamp is over each tile, sign changed

        Way(FilmGradient gradient, int size) {
            this.gradient = gradient;
            film = new double[size];
            landGap = new double[size];
            rate = new double[size];
            sagging = new double[size];
            setPressure = new double[size];
            multipliers = new double[size];
            body = new double[size];
        }
    }

    private final SolverInput input;
    private final Parts parts;
    private final TileStates tiles;
    private final FlowSlopes flowSlopes;
    private final MobilitySlopes mobilitySlopes;
    private final int size;
    private final double[] ofFilm; // explicit, by the film at the end
    private final double[] ofGap; // explicit, by the gap of tiles that are not full
    private final double[] ofHeld;
    private final double[] weight;
    private final double[] ofLand;
    private final double[] right;
    private final double[] rest;
    private final double[] mu;
    private final double[] more;
    private final double[] image;
    private final double[] multiplier; // π, by shape
    private final double[] ofApplied;
    private final double[] ofViscosity; // by the logarithm of that of each tile
    private double timeOverViscosity;
    private boolean[] fullAtStart = {};
    private double logViscosity;
    private double logStep; // beside that which goes with the viscosity

    StepAdjoint(SolverInput input, Parts parts) {
        this.input = input;
        this.parts = parts;
        tiles = parts.tiles();
        flowSlopes = new FlowSlopes(input, parts.flow(), tiles);
        mobilitySlopes = new MobilitySlopes(input, parts.mobility());
        size = input.grid.size();
        ofFilm = new double[size];
        ofGap = new double[size];
        ofHeld = new double[size];
        weight = new double[size];
        ofLand = new double[size];
        right = new double[size];
        rest = new double[size];
        mu = new double[size];
        more = new double[size];
        image = new double[size];
        ofApplied = new double[size];
        ofViscosity = new double[size];
        multiplier = new double[parts.motion().shapes.length];
    }

    /** Begins a step for all goals. */
    void begin(double newTimeOverViscosity, boolean[] newFullAtStart) {
        timeOverViscosity = newTimeOverViscosity;
        fullAtStart = newFullAtStart;
    }

    /** Takes one goal back over the step. */
    void back(Way way, FilmTape.Step end, FilmTape.Step start, double[] rateBefore, double reduction, Stage stage) {
        logViscosity = 0;
        logStep = 0;
        Arrays.fill(ofViscosity, 0);
        explicit(way, end, start);
        solve(way, reduction, stage);
        for (int i = 0; i < size; i++) {
            boolean squeezes = tiles.state[i] == LAW && !tiles.set[i];
            way.body[i] = tiles.active[i] ? mu[i] : -ofGap[i];
            weight[i] = ofFilm[i] + (tiles.state[i] == FULL ? mu[i] : 0);
            ofLand[i] = squeezes ? ofGap[i] + mu[i] : 0;
        }
        mobilitySlopes.begin(timeOverViscosity, fullAtStart);
        flowSlopes.take(weight, ofLand, mobilitySlopes);
        logViscosity += flowSlopes.byLogViscosity;
        capillary(way);
        for (int i = 0; i < size; i++) {
            way.film[i] = weight[i];
            switch (tiles.state[i]) {
                case FULL -> full(way, i);
                case LAW -> {
                    if (tiles.set[i]) {
                        solid(way, i);
                    } else {
                        law(way, i, end.landGap()[i] - tiles.aside[i], ofLand[i]);
                    }
                }
                default -> {}
            }
            double flows = parts.viscosity().share(i);
            mobilitySlopes.take(i, end.stepSeconds(), tiles.landGap[i], rateBefore[i], tiles.film[i], flows);
            ofViscosity[i] -= mobilitySlopes.logFluidity;
            FilmGradient gradient = way.gradient;
            way.film[i] += mobilitySlopes.film;
            way.landGap[i] += mobilitySlopes.gap;
            way.rate[i] = mobilitySlopes.rate;
            gradient.fraction[i] += mobilitySlopes.fraction;
            gradient.volume[i] += mobilitySlopes.volume;
            gradient.thickness[i] += mobilitySlopes.thickness;
            logStep += mobilitySlopes.logStep;
            wedge(way, i, -way.body[i]);
        }
    }

    /** What the goal takes from the step's end without the pressures: {@code ofFilm}, {@code ofGap}, {@code ofHeld}. */
    private void explicit(Way way, FilmTape.Step end, FilmTape.Step start) {
        double dt = end.stepSeconds();
        for (int i = 0; i < size; i++) {
            double rate = (end.landGap()[i] - start.landGap()[i]) / dt;
            double gap = way.landGap[i] + way.rate[i] / dt;
            logStep -= way.rate[i] * rate;
            way.landGap[i] = -way.rate[i] / dt;
            ofFilm[i] = way.film[i];
            ofGap[i] = 0;
            ofHeld[i] = 0;
            if (tiles.state[i] == FULL) {
                double left = sag(way, i, gap, end);
                ofFilm[i] += left;
                way.gradient.volume[i] -= left;
            } else {
                ofGap[i] = gap;
                way.sagging[i] = 0;
            }
        }
    }

    /** What {@link TileStates#relax} does to a full tile: returns the derivative by the mean height of its face. */
    private double sag(Way way, int i, double ofLandGap, FilmTape.Step end) {
        double sag = input.sag[i];
        double gap = tiles.newGap[i];
        if (!(sag > 0 && gap > 0)) {
            way.sagging[i] = 0;
            return ofLandGap;
        }
        double left = tiles.held[i] > 0 ? tiles.held[i] : tiles.sagging[i];
        double h = gap + sag * left;
        double alone = Math.max(1e-30, input.ownMoment[i]);
        double pace = end.stepSeconds() / (sag * parts.viscosity().of(i) * alone);
        double stays = Math.exp(-h * h * h * pace);
        double all = way.sagging[i] + sag * ofLandGap;
        double flows = all * left * stays * h * h * h * pace;
        double ofHeight = -3 * flows / h;
        way.gradient.sag[i] += ofLandGap * left * stays + flows / sag + ofHeight * left;
        way.gradient.ownMoment[i] += flows / alone;
        logViscosity += flows;
        ofViscosity[i] += flows;
        double ofLeft = all * stays + ofHeight * sag;
        ofHeld[i] = tiles.held[i] > 0 ? ofLeft : 0;
        way.sagging[i] = tiles.held[i] > 0 ? 0 : ofLeft;
        return ofLandGap + ofHeight;
    }

    /** Solves for the multipliers. */
    private void solve(Way way, double reduction, Stage stage) {
        double[][] shapes = parts.motion().shapes;
        double[] sums = new double[shapes.length];
        boolean clear = false;
        for (int i = 0; i < size; i++) {
            boolean open = tiles.state[i] == OPEN;
            ofLand[i] = tiles.state[i] == LAW && !tiles.set[i] ? ofGap[i] : 0;
            way.body[i] = open ? -ofGap[i] : 0;
            clear |= open && ofGap[i] != 0;
            for (int a = 0; a < sums.length && open; a++) {
                sums[a] += ofGap[i] * shapes[a][i];
            }
        }
        flowSlopes.take(ofFilm, ofLand);
        if (clear) {
            parts.stamp().apply(way.body, image);
        }
        double squares = 0;
        for (int i = 0; i < size; i++) {
            right[i] = 0;
            if (tiles.active[i]) {
                boolean full = tiles.state[i] == FULL;
                right[i] = flowSlopes.byStamp[i]
                        + (full ? flowSlopes.byPressure[i] : -ofLand[i] * (tiles.yield[i] - input.sag[i]))
                        - (clear ? image[i] : 0)
                        + beforeItSet(way, i);
            }
            squares += right[i] * right[i];
        }
        double left = begin(way, sums, squares);
        for (int round = 0; round < MOST_ROUNDS; round++) {
            double wanted = Math.max(0.1 * reduction, Math.min(0.5, reduction / Math.max(left, 1e-300)));
            parts.newton().solve(rest, sums, more, wanted, BUDGET, stage);
            for (int i = 0; i < size; i++) {
                mu[i] += more[i];
            }
            Arrays.fill(sums, 0);
            left = Math.sqrt(residual() / Math.max(squares, 1e-300));
            if (left <= 10 * reduction || !flowSlopes.isReversed()) {
                break;
            }
        }
        System.arraycopy(mu, 0, way.multipliers, 0, size);
    }

    /** What a tile that sets in the next step keeps of the pressure at the end of this one. */
    private double beforeItSet(Way way, int i) {
        double keeps = tiles.set[i] ? 0 : way.setPressure[i];
        way.setPressure[i] -= keeps;
        return keeps;
    }

    /**
     * Begins with the multipliers of the step that was taken back before, where they help, and takes their sums off those wanted.
     *
     * @return what they leave over the right side
     */
    private double begin(Way way, double[] sums, double squares) {
        for (int i = 0; i < size; i++) {
            mu[i] = tiles.active[i] ? way.multipliers[i] : 0;
        }
        double left = Math.sqrt(residual() / Math.max(squares, 1e-300));
        if (!(left < 1)) {
            Arrays.fill(mu, 0);
            System.arraycopy(right, 0, rest, 0, size);
            return 1;
        }
        double[][] shapes = parts.motion().shapes;
        for (int a = 0; a < sums.length; a++) {
            for (int i = 0; i < size; i++) {
                sums[a] -= mu[i] * shapes[a][i];
            }
        }
        return left;
    }

    /** Sets π and the rest: what the multipliers found leave of the right side. Returns the sum of its squares. */
    private double residual() {
        for (int i = 0; i < size; i++) {
            weight[i] = tiles.state[i] == FULL ? mu[i] : 0;
            ofLand[i] = tiles.state[i] == LAW && !tiles.set[i] ? mu[i] : 0;
        }
        flowSlopes.take(weight, ofLand);
        parts.stamp().apply(mu, image);
        double[][] shapes = parts.motion().shapes;
        double[] sums = new double[shapes.length];
        for (int i = 0; i < size; i++) {
            boolean full = tiles.state[i] == FULL;
            rest[i] = !tiles.active[i]
                    ? 0
                    : right[i]
                            - image[i]
                            - tiles.yield[i] * mu[i]
                            + flowSlopes.byStamp[i]
                            + (full ? flowSlopes.byPressure[i] : 0);
            for (int a = 0; a < sums.length; a++) {
                sums[a] -= rest[i] * shapes[a][i];
            }
        }
        System.arraycopy(parts.motion().amounts(sums), 0, multiplier, 0, sums.length);
        double squares = 0;
        for (int i = 0; i < size; i++) {
            for (int a = 0; a < sums.length && tiles.active[i]; a++) {
                rest[i] += multiplier[a] * shapes[a][i];
            }
            squares += rest[i] * rest[i];
        }
        return squares;
    }

    /** A full tile: compressed by its film's pressure; in the step in which it filled its land bears a part beside that. */
    private void full(Way way, int i) {
        FilmGradient gradient = way.gradient;
        gradient.volume[i] -= mu[i];
        double byYield = -mu[i] * tiles.pressure[i] / input.bulkModulus;
        if (tiles.film[i] >= input.cavityVolume[i]) {
            way.film[i] += byYield;
        } else {
            gradient.volume[i] += byYield;
        }
        if (tiles.held[i] != 0) {
            double byHeld = ofHeld[i] - flowSlopes.byPressure[i] + mu[i] * tiles.yield[i];
            held(way, i, byHeld);
        }
    }

    /**
     * What {@link TileLaw#heldWhenFilled} said when the tile filled. The film it had then is taken to go with that at the step's
     * beginning: where Newton's iteration stood is not known any more.
     */
    private void held(Way way, int i, double byHeld) {
        double meniscus = input.capillaryPressure[i];
        double h = parts.law().gapInSuction(i, tiles.held[i] - meniscus, tiles.newFilm[i]);
        LawSlopes slopes = parts.lawSlopes();
        slopes.take(i, h);
        double stiff = 1 - input.sag[i] * slopes.gap; // of the face against the gap under its land
        way.gradient.capillary[i] += byHeld;
        // The mean height is given: h + aside - sag q(h) = H - v
        double byBrim = byHeld * slopes.gap / stiff;
        way.film[i] += byBrim;
        way.gradient.volume[i] -= byBrim;
        way.gradient.sag[i] += byBrim * (tiles.held[i] - meniscus);
        addLaw(way, i, byHeld + byBrim * input.sag[i]);
    }

    /** A tile with room: the gap its land has under the pressure. */
    private void law(Way way, int i, double h, double byGap) {
        LawSlopes slopes = parts.lawSlopes();
        slopes.take(i, h);
        addLaw(way, i, -byGap / slopes.gap);
        way.gradient.sag[i] -= mu[i] * tiles.q[i];
    }

    /** Land on film that has set beside cavities with room: it stays, and is compressed by what came since. */
    private void solid(Way way, int i) {
        double since = tiles.q[i] - tiles.setPressure[i];
        double byHeight = ofGap[i] + mu[i] * (1 - since / input.bulkModulus);
        if (tiles.landGap[i] <= tiles.film[i]) {
            way.landGap[i] += byHeight;
        } else {
            way.film[i] += byHeight;
        }
        way.gradient.sag[i] -= mu[i] * tiles.q[i];
        way.setPressure[i] += mu[i] * parts.law().touch(i) / input.bulkModulus;
    }

    /** Adds a multiple of the derivatives of the pressure that a tile's law gives at a gap. */
    private void addLaw(Way way, int i, double times) {
        LawSlopes slopes = parts.lawSlopes();
        FilmGradient gradient = way.gradient;
        if (tiles.landGap[i] <= tiles.film[i]) {
            way.landGap[i] += times * slopes.touch;
        } else {
            way.film[i] += times * slopes.touch;
        }
        way.film[i] += times * slopes.film;
        gradient.fraction[i] += times * slopes.fraction;
        gradient.volume[i] += times * slopes.volume;
        gradient.edges[i] += times * slopes.edges;
        gradient.thickness[i] += times * slopes.thickness;
        gradient.reach[i] += times * slopes.reach;
        gradient.own[i] += times * slopes.own;
        gradient.moment[i] += times * slopes.moment;
        gradient.capillary[i] += times * slopes.capillary;
        logViscosity += times * slopes.logViscosity;
        ofViscosity[i] += times * slopes.logViscosity;
    }

    /** The menisci of tiles with room, and what those that the stamp does not rest on pull. */
    private void capillary(Way way) {
        boolean pulls = false;
        for (int i = 0; i < size; i++) {
            if (tiles.state[i] != FULL && tiles.pressure[i] != 0) {
                way.gradient.capillary[i] -= flowSlopes.byPressure[i];
            }
            pulls |= tiles.state[i] == OPEN && tiles.q[i] != 0;
        }
        if (!pulls) {
            return;
        }
        parts.stamp().apply(way.body, image);
        for (int i = 0; i < size; i++) {
            if (tiles.state[i] == OPEN && tiles.q[i] != 0) {
                double byPressure = -image[i];
                for (int a = 0; a < multiplier.length; a++) {
                    byPressure += multiplier[a] * parts.motion().shapes[a][i];
                }
                way.gradient.capillary[i] += byPressure * (input.cavityFraction[i] - 1);
                way.gradient.fraction[i] += byPressure * input.capillaryPressure[i];
            }
        }
    }

    /** Adds what a tile's height of the undeformed stamp does to the goal. */
    void wedge(Way way, int i, double byHeight) {
        double pitch = input.grid.pitchMetres();
        way.gradient.wedgeX += byHeight * pitch * (input.grid.column(i) - (input.grid.columns() - 1) / 2.0);
        way.gradient.wedgeY += byHeight * pitch * (input.grid.row(i) - (input.grid.rows() - 1) / 2.0);
    }

    /** Adds what load, time and stamp do in the step that was taken back. */
    void load(Way way, int number, double[] applied, List<OtherInput> others) {
        parts.stamp().applyBack(way.body, ofApplied);
        FilmGradient gradient = way.gradient;
        for (int i = 0; i < size; i++) {
            ofApplied[i] = -ofApplied[i];
            for (int a = 0; a < multiplier.length; a++) {
                ofApplied[i] -= multiplier[a] * parts.motion().shapes[a][i];
            }
            gradient.logPressure[number] += ofApplied[i] * applied[i];
        }
        gradient.logViscosity[number] = logViscosity;
        gradient.logStep[number] = logStep - logViscosity;
        for (int k = 0; k < others.size(); k++) {
            gradient.changes[k] +=
                    others.get(k).change(logViscosity, ofViscosity, gradient.logStep[number], ofApplied, way.body);
        }
    }
}
