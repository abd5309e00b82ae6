package org.evenstamp.analysis.film.record;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * What the filling of each tile leaves for the analyses after it: how fast it went at most, which pressure the protrusions
 * bore while the cavities beside them had room, and how much of it the film's stress still remembers at the end.
 *
 * <p>A Maxwell element of plateau modulus G under a rate proportional to the filling rate {@code ċ} carries, at the end of the
 * run, {@code G} times {@code ∫ ċ exp(-∫ G/η dt') dt} times the factor of proportion, which is the tile's own business: so one
 * number a tile serves every law of wall shear. Each step takes ċ and the viscosity η as constant and is exact for them; a tile
 * that fills within a step stops there.
 */
public final class UnrelaxedFill {
    private final OptionalDouble plateauModulus;
    private final double[] rate;
    private final double[] openPressure;
    private final double[] memory;

    /**
     * Starts with nothing filled.
     *
     * @param plateauModulus G of the film, Pa; without it nothing is said of memory
     */
    UnrelaxedFill(int tiles, OptionalDouble plateauModulus) {
        this.plateauModulus = plateauModulus;
        rate = new double[tiles];
        openPressure = new double[tiles];
        memory = new double[tiles];
        Arrays.fill(openPressure, Double.NaN);
    }

    /** Lets the stress of a tile fade over a step. */
    void fade(int tile, double seconds, double viscosity) {
        if (memory[tile] != 0) {
            memory[tile] *= Math.exp(-relaxations(seconds, viscosity));
        }
    }

    /**
     * Adds what a tile with room took in during a step that {@link #fade} has gone over already.
     *
     * @param taken volume per area, m; negative where the tile lost film
     * @param filling the part of the step, s, after which the tile was full; the whole step when it still has room
     * @param seconds length of the step, s, positive
     * @param pressure mean pressure on the stamp at the end of the step, Pa
     */
    void take(int tile, double taken, double filling, double seconds, double viscosity, double pressure) {
        boolean room = filling >= seconds;
        double x = relaxations(filling, viscosity);
        double fresh = x < 1e-12 ? taken : -Math.expm1(-x) / x * taken;
        memory[tile] += fresh * Math.exp(-relaxations(seconds - filling, viscosity));
        if (filling > 0) {
            rate[tile] = Math.max(rate[tile], taken / filling);
        }
        if (Double.isNaN(openPressure[tile])) {
            openPressure[tile] = pressure; // a tile that fills within the first step says no less than its end
        } else if (room) {
            openPressure[tile] = Math.max(openPressure[tile], pressure);
        }
    }

    private double relaxations(double seconds, double viscosity) {
        return plateauModulus.isPresent() ? seconds * plateauModulus.getAsDouble() / viscosity : 0;
    }

    /** Returns the largest rate at which each tile took in film, m/s. */
    public double[] rate() {
        return rate.clone();
    }

    /** Returns the largest pressure on each tile while it had room, Pa; NaN where it never had. */
    public double[] openPressure() {
        return openPressure.clone();
    }

    /** Returns what is remembered of the volume per area that each tile took in, m; NaN without a plateau modulus. */
    public double[] memory() {
        double[] told = memory.clone();
        if (plateauModulus.isEmpty()) {
            Arrays.fill(told, Double.NaN);
        }
        return told;
    }
}
