package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.shared.grid.TileGrid;

/**
 * What each tile does in a time step that is being tried, and how far film and stamp are from agreeing there. The arrays are
 * shared by those who work on the step.
 */
final class TileStates {
    static final byte OPEN = 0; // the stamp stands clear of what could bear it
    static final byte LAW = 1; // film is squeezed out from under the protrusions into cavities with room
    static final byte FULL = 2; // the cavities are full
    static final byte STOPPED = 3; // a particle holds the stamp

    private static final double MOST_GUESSED = 0.5; // share of a tile's pressure

    // When the step begins.
    final double[] film; // film per area H, uncompressed
    final double[]
            gap; // mean height of the face above the substrate, cavities filled up: what film has room for less v
    final double[] landGap; // h, under the protrusions
    final double[] sagging; // pressure that keeps the roofs of a full tile below its mean

    // When it ends.
    final byte[] state;
    // Film that lets go of a tile no longer drains it, and touches it again. After so many changes, one in each of
    // Newton's steps, it stays where film and stamp nearly agree; after twice as many the step will come to no end.
    private static final int MOST_CHANGES = 12;
    private final int[] changes;
    final double[] q; // pressure on the stamp
    final double[] newFilm;
    final double[] newGap;
    final double[] newLandGap;
    final double[] aside; // what the flow to and from the neighbours' land adds to the gap under the land
    final boolean[] bearing; // land that film can leave over the sides
    final double[] yield; // by how much the gap falls per pressure, m/Pa
    final double[] pressure; // P, in the film
    final double[] bend; // of the stamp
    final double[] wedge; // of the stamp at rest
    final double[] r; // gap less where the stamp is
    final boolean[] active; // the stamp rests on it
    final boolean[] set; // solid: the film moves no more, and holds the stamp that it touched as it set
    final boolean[] full;
    volatile boolean switched; // some tile, since this was last cleared
    volatile boolean moved; // some pressure on the stamp, as tiles switched
    volatile boolean restless; // some tile goes to and fro in this step, and film and stamp do not agree
    boolean settled; // film and stamp agree nearly, where tiles are as they are

    private final SolverInput input;
    private final TileLaw law;
    final double[] held; // by a full tile's land beside its film's pressure, from the squeezing that filled it
    private final double hair;
    private final byte[] savedState;
    private final double[] savedQ;
    private final double[] savedPressure;
    private final double[] earlierQ; // when the last accepted step began
    private final byte[] earlierState; // OPEN for what the pressure at its end says nothing about
    private final boolean[] wasSet; // when the step begins
    private final boolean[] loose; // the stamp stood clear of the film as this set
    final double[] setPressure; // on the stamp as the film set

    TileStates(SolverInput input, TileLaw law) {
        this.input = input;
        this.law = law;
        int size = input.grid.size();
        film = new double[size];
        gap = new double[size];
        landGap = new double[size];
        sagging = new double[size];
        newLandGap = new double[size];
        aside = new double[size];
        bearing = new boolean[size];
        state = new byte[size];
        changes = new int[size];
        q = new double[size];
        newFilm = new double[size];
        newGap = new double[size];
        yield = new double[size];
        pressure = new double[size];
        bend = new double[size];
        wedge = new double[size];
        r = new double[size];
        active = new boolean[size];
        full = new boolean[size];
        held = new double[size];
        savedState = new byte[size];
        savedQ = new double[size];
        savedPressure = new double[size];
        earlierQ = new double[size];
        earlierState = new byte[size];
        set = new boolean[size];
        wasSet = new boolean[size];
        loose = new boolean[size];
        setPressure = new double[size];
        hair = 1e-9 * input.filmThickness;
        TileGrid grid = input.grid;
        for (int i = 0; i < size; i++) {
            double x = grid.column(i) - (grid.columns() - 1) / 2.0;
            double y = grid.row(i) - (grid.rows() - 1) / 2.0;
            wedge[i] = (input.wedgeX * x + input.wedgeY * y) * grid.pitchMetres();
        }
    }

    /** Lets the flat stamp come down until it touches the film or the tallest particle. */
    void start(double[] applied) {
        double lift = 0;
        for (int i = 0; i < gap.length; i++) {
            lift = Math.max(lift, Math.max(input.thickness[i], input.particleHeight[i]) - wedge[i]);
        }
        for (int i = 0; i < gap.length; i++) {
            film[i] = input.thickness[i];
            gap[i] = lift + wedge[i];
            landGap[i] = gap[i];
            if (input.particleHeight[i] > 0 && input.particleHeight[i] >= gap[i] * (1 - 1e-12)) {
                state[i] = STOPPED;
            } else if (input.cavityVolume[i] == 0) {
                state[i] = FULL;
            } else {
                state[i] = law.bears(i) ? LAW : OPEN;
            }
            q[i] = state[i] == OPEN ? 0 : applied[i];
        }
    }

    /** Keeps what a step changes before it is accepted. */
    void save() {
        System.arraycopy(state, 0, savedState, 0, state.length);
        System.arraycopy(q, 0, savedQ, 0, q.length);
        System.arraycopy(pressure, 0, savedPressure, 0, pressure.length);
    }

    /**
     * Ends a step: the roofs of full tiles that have met the film lift off their protrusions' load as film flows in, by
     * Stefan's law.
     *
     * @param dt length of the step, s
     * @param viscosity of the film
     */
    void relax(double dt, StepViscosity viscosity) {
        for (int i = 0; i < gap.length; i++) {
            double sag = input.sag[i];
            if (state[i] == FULL && sag > 0 && newGap[i] > 0) {
                double left = held[i] > 0 ? held[i] : sagging[i];
                double h = newGap[i] + sag * left;
                double eta = viscosity.of(i);
                sagging[i] = left * Math.exp(-h * h * h * dt / (sag * eta * Math.max(1e-30, input.ownMoment[i])));
                newLandGap[i] = newGap[i] + sag * sagging[i];
            } else {
                sagging[i] = 0;
                newLandGap[i] = state[i] == OPEN ? newGap[i] : newLandGap[i];
            }
        }
    }

    /** Returns the pressure that squeezed the film of a tile that filled in this step up to the brim, Pa; 0 in others. */
    double squeezedToBrim(int i) {
        return held[i] == 0 ? 0 : held[i] + law.meniscusWhenFull(i, newFilm[i]) - baseAtBrim(i);
    }

    /** Returns the pressure that a tile at its brim bears without squeezing, Pa. */
    double baseAtBrim(int i) {
        return law.base(i, newFilm[i] - input.cavityVolume[i], newFilm[i]);
    }

    /** Makes the step's end the state. */
    void accept() {
        System.arraycopy(savedQ, 0, earlierQ, 0, q.length);
        for (int i = 0; i < q.length; i++) {
            earlierState[i] = held[i] == 0 ? savedState[i] : OPEN;
        }
        System.arraycopy(newFilm, 0, film, 0, film.length);
        System.arraycopy(newGap, 0, gap, 0, gap.length);
        System.arraycopy(newLandGap, 0, landGap, 0, gap.length);
        System.arraycopy(set, 0, wasSet, 0, set.length);
    }

    /** Takes note of the tiles that have set when a step begins. */
    void set(StepViscosity viscosity, int from, int to) {
        for (int i = from; i < to; i++) {
            set[i] = viscosity.hasSet(i);
            if (set[i] && !wasSet[i]) {
                loose[i] = state[i] == OPEN;
                setPressure[i] = loose[i] ? 0 : savedQ[i];
            }
        }
    }

    /** Brings back what was kept. */
    void restore() {
        System.arraycopy(savedState, 0, state, 0, state.length);
        System.arraycopy(savedQ, 0, q, 0, q.length);
        System.arraycopy(savedPressure, 0, pressure, 0, pressure.length);
    }

    /** Leaves all as it is: the stamp lies on the film; where it touches is settled when it is pressed. */
    void rest() {
        System.arraycopy(film, 0, newFilm, 0, film.length);
        System.arraycopy(gap, 0, newGap, 0, gap.length);
        System.arraycopy(landGap, 0, newLandGap, 0, gap.length);
    }

    /**
     * Guesses the pressures on the stamp at the step's end: those of tiles that did not switch go on as they went.
     *
     * @param times length of the step over that of the last accepted one
     */
    void guess(double times, int from, int to) {
        for (int i = from; i < to; i++) {
            if (state[i] != OPEN && state[i] == earlierState[i]) {
                double most = MOST_GUESSED * Math.abs(q[i]);
                q[i] += Math.max(-most, Math.min(most, times * (q[i] - earlierQ[i])));
            }
        }
    }

    /** Begins from the state at the end of the last accepted step. */
    void begin() {
        Arrays.fill(held, 0);
        Arrays.fill(changes, 0);
        restless = false;
        System.arraycopy(film, 0, newFilm, 0, film.length);
        System.arraycopy(gap, 0, newGap, 0, gap.length);
        for (int i = 0; i < q.length; i++) {
            if (state[i] == LAW && !set[i]) {
                q[i] = law.admissible(i, q[i], newFilm[i]);
            }
        }
    }

    /**
     * Sets the pressures in the films of tiles {@code from .. to - 1} from those on the stamp.
     *
     * <p>In the step in which a tile fills, its land keeps bearing what it bore when the film reached the cavities' roofs:
     * so the stamp does not drop onto its neighbours, fill them, and drop on. From the next step on the film's pressure
     * alone bears it.
     */
    void press(int from, int to) {
        for (int i = from; i < to; i++) {
            full[i] = state[i] == FULL;
            bearing[i] = state[i] == FULL || state[i] == LAW;
            pressure[i] = full[i] ? q[i] - held[i] : law.meniscus(i, newGap[i], newFilm[i]);
        }
    }

    /** Sets a tile's gap from its pressure and film, and by how much it is above the stamp without its height. */
    void compare(int from, int to) {
        for (int i = from; i < to; i++) {
            compare(i);
        }
    }

    private void compare(int i) {
        active[i] = state[i] != OPEN;
        switch (state[i]) {
            case FULL -> {
                yield[i] = Math.max(film[i], input.cavityVolume[i]) / input.bulkModulus;
                newGap[i] = newFilm[i] - input.cavityVolume[i];
                newLandGap[i] = newGap[i];
                r[i] = newGap[i] - yield[i] * pressure[i] - bend[i] - wedge[i];
            }
            case LAW -> {
                if (set[i]) {
                    compareSet(i);
                    return;
                }
                double own = law.gap(i, q[i], newFilm[i]);
                newLandGap[i] = own + aside[i];
                newGap[i] = newLandGap[i] - input.sag[i] * q[i];
                yield[i] = law.compliance(i, own, newFilm[i]) + input.sag[i];
                r[i] = newGap[i] - bend[i] - wedge[i];
            }
            case STOPPED -> {
                double top = input.particleHeight[i];
                yield[i] = top / input.bulkModulus;
                newGap[i] = top;
                newLandGap[i] = top;
                r[i] = top - yield[i] * (q[i] - law.pressureAtStop(i, top, newFilm[i])) - bend[i] - wedge[i];
            }
            default -> {
                yield[i] = 0;
                r[i] = 0;
            }
        }
    }

    /** Land on solid film beside cavities with room: it gives as far as the film is compressed, and its face sags. */
    private void compareSet(int i) {
        double height = law.touch(i);
        double softness = height / input.bulkModulus;
        yield[i] = softness + input.sag[i];
        newLandGap[i] = height;
        newGap[i] = height - input.sag[i] * q[i];
        r[i] = newGap[i] - softness * (q[i] - setPressure[i]) - bend[i] - wedge[i];
    }

    /** Moves the pressure on the stamp by Newton's change. */
    void advance(int i, double change) {
        // Downwards along the law itself: its tangent would overshoot to an enormous suction. But the law takes the
        // rounding of the gap for a pressure, in short steps one that bends a foil: where little changes the tangent
        // serves.
        double own = newLandGap[i] - aside[i];
        double down = (yield[i] - input.sag[i]) * change;
        q[i] = state[i] == LAW && !set[i] && down < -1e-6 * own
                ? law.pressure(i, own - down, newFilm[i])
                : q[i] + change;
    }

    /** Lets the tiles {@code from .. to - 1} fill, open, touch and stop where what they do no longer fits. */
    void switchTiles(int from, int to) {
        for (int i = from; i < to; i++) {
            if (switchTile(i)) {
                switched = true;
            }
        }
    }

    /** Lets a stamp that nothing bears fall until something does. */
    void fall() {
        if (!anyBears()) {
            seat();
            switched = true;
        }
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
    private void seat() {
        double highest = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < state.length; i++) {
            highest = Math.max(highest, support(i) - bend[i] - wedge[i]);
        }
        for (int i = 0; i < state.length; i++) {
            if (support(i) - bend[i] - wedge[i] >= highest - hair) {
                boolean squeezes = law.bears(i) && input.cavityVolume[i] > 0;
                state[i] = input.particleHeight[i] >= support(i) ? STOPPED : squeezes ? LAW : FULL;
            }
        }
    }

    private double support(int i) {
        double soft = law.bears(i) && input.cavityVolume[i] > 0 ? law.touch(i) : newFilm[i] - input.cavityVolume[i];
        return Math.max(soft, input.particleHeight[i] > 0 ? input.particleHeight[i] : Double.NEGATIVE_INFINITY);
    }

    private boolean switchTile(int i) {
        double volume = input.cavityVolume[i];
        double top = input.particleHeight[i];
        byte now = state[i];
        byte then = now;
        if (set[i] && now != OPEN) {
            // Solid film neither moves nor lets go of a stamp that it touched as it set.
            if (loose[i] && q[i] < 0) {
                state[i] = OPEN;
                q[i] = 0;
                moved = true;
                return true;
            }
            return false;
        }
        switch (now) {
            case LAW -> {
                if (top > 0 && newGap[i] < top - hair) {
                    then = STOPPED;
                } else if (newFilm[i] - newGap[i] > volume + hair) {
                    then = FULL;
                } else if (q[i] < law.baseInTouch(i, newGap[i], newFilm[i]) && !law.holds(i)) {
                    then = OPEN;
                }
            }
            case FULL -> {
                if (top > 0 && newGap[i] < top - hair && q[i] - held[i] > 0) {
                    then = STOPPED;
                } else if (q[i] - held[i] < law.meniscusWhenFull(i, newFilm[i])) {
                    then = law.bears(i) && volume > 0 ? LAW : OPEN;
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
        changes[i] = then == now ? 0 : changes[i] + 1;
        if (changes[i] > 2 * MOST_CHANGES) {
            restless = true; // only ever set here, by whichever thread
        }
        boolean drained = (now == FULL && then == LAW) || (now == LAW && then == OPEN);
        if (drained && settled && changes[i] > MOST_CHANGES) {
            return false;
        }
        if (then != now) {
            state[i] = then;
            held[i] = now == LAW && then == FULL ? law.heldWhenFilled(i, newFilm[i], aside[i]) : 0;
            if (then == OPEN || then == LAW) {
                moved = true;
            }
            if (then == OPEN) {
                q[i] = law.base(i, newGap[i], newFilm[i]);
            } else if (then == LAW) {
                q[i] = law.admissible(i, Math.max(q[i], law.base(i, law.touch(i), newFilm[i])), newFilm[i]);
            }
        }
        return then != now;
    }
}
