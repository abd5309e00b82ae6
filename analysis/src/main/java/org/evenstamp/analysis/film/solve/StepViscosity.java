package org.evenstamp.analysis.film.solve;

import org.evenstamp.analysis.film.load.PressLoad;

/**
 * Viscosity of the film at rest during a time step: one number, or a map where film flows more easily in one place than in
 * another, or has set. Each tile counts by the mean of its fluidity over the step, so steps add up to the integral over its
 * past.
 */
final class StepViscosity {
    private final PressLoad load;
    private final double[] share; // of the largest fluidity; none where all tiles are alike
    private double least;

    /** Starts with what a load says of its beginning. */
    StepViscosity(PressLoad load, int tiles) {
        this.load = load;
        share = new double[load.differsByTile() ? tiles : 0];
        turnTo(0, 0);
    }

    /** Turns to a step. */
    void turnTo(double start, double length) {
        if (share.length == 0) {
            least = load.viscosityPascalSeconds(start + length / 2);
            return;
        }
        load.fluidity(start, start + length, share);
        double most = 0;
        for (double fluidity : share) {
            most = Math.max(most, fluidity);
        }
        for (int i = 0; i < share.length; i++) {
            share[i] = most == 0 ? 0 : share[i] / most;
        }
        least = 1 / most;
    }

    /** Takes one viscosity for all tiles, in Pa s; only where they are alike. */
    void set(double pascalSeconds) {
        if (share.length > 0) {
            throw new IllegalStateException("the viscosity differs from tile to tile");
        }
        least = pascalSeconds;
    }

    /** Returns whether it differs from tile to tile. */
    boolean differs() {
        return share.length > 0;
    }

    /** Returns the viscosity of the most fluid tile, in Pa s; infinite when all have set. */
    double least() {
        return least;
    }

    /** Returns the viscosity of a tile, in Pa s; infinite when it has set. */
    double of(int tile) {
        return share.length == 0 ? least : least / share[tile];
    }

    /** Returns the fluidity of a tile over the largest: 0 when it has set. */
    double share(int tile) {
        return share.length == 0 ? 1 : share[tile];
    }

    /** Returns whether a tile has set: it moves no more. */
    boolean hasSet(int tile) {
        return share.length > 0 && share[tile] == 0;
    }
}
