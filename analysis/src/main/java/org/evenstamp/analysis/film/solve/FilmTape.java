package org.evenstamp.analysis.film.solve;

import java.util.ArrayList;
import java.util.List;

/**
 * The accepted steps of one run of {@link FilmSolver}, as {@link FilmAdjoint} needs them to go back: about {@value
 * #NUMBERS_PER_TILE} numbers a tile and step.
 */
public final class FilmTape {
    /** Numbers of eight bytes kept of a tile and step, at most. */
    static final int NUMBERS_PER_TILE = 5;

    /**
     * The film at the end of a step.
     *
     * @param startSeconds time at which the step began
     * @param stepSeconds its length; 0 for the state before the first step
     * @param viscosity during the step, Pa s
     * @param resting whether nothing pressed on the stamp yet, and all stayed as it was
     */
    @SuppressWarnings("ArrayRecordComponent") // large, and read alone
    record Step(
            double startSeconds,
            double stepSeconds,
            double viscosity,
            boolean resting,
            byte[] state,
            double[] pressure,
            double[] film,
            double[] landGap,
            double[] sagging,
            double[] held) {}

    private static final double[] NONE = {};

    private final List<Step> steps = new ArrayList<>();
    private final List<Double> ends = new ArrayList<>();
    /** Film in the cavities at the end of each step, summed over the tiles, each over its area. */
    private final List<Double> filled = new ArrayList<>();

    private boolean lastOnly;

    /** Starts an empty tape. */
    public FilmTape() {}

    /** Lets it keep the last step alone. */
    void keepLastOnly() {
        lastOnly = true;
    }

    void keep(TileStates tiles, double start, double dt, double eta, boolean resting) {
        if (lastOnly) {
            steps.clear();
        }
        steps.add(new Step(
                start,
                dt,
                eta,
                resting,
                tiles.state.clone(),
                tiles.q.clone(),
                tiles.film.clone(),
                tiles.landGap.clone(),
                unlessZero(tiles.sagging),
                dt > 0 ? unlessZero(tiles.held) : NONE));
        ends.add(start + dt);
        filled.add(inCavities(steps.get(steps.size() - 1)));
    }

    /** Returns the film that is not under protrusions. */
    private static double inCavities(Step step) {
        double sum = 0;
        for (int i = 0; i < step.film.length; i++) {
            sum += step.film[i] - Math.max(0, Math.min(step.landGap[i], step.film[i]));
        }
        return sum;
    }

    /** Returns the film in the cavities at the end of a step, summed over the tiles, each over its area. */
    double filledMetres(int number) {
        return filled.get(number);
    }

    /** Returns when a step ended, in s. */
    double endSeconds(int number) {
        return ends.get(number);
    }

    private static double[] unlessZero(double[] values) {
        for (double value : values) {
            if (value != 0) {
                return values.clone();
            }
        }
        return NONE;
    }

    Step step(int number) {
        return steps.get(number);
    }

    /** Returns the number of steps. */
    public int length() {
        return Math.max(0, ends.size() - 1);
    }

    /** Returns the lengths of the steps, in s. */
    public double[] stepSeconds() {
        return steps.stream().skip(1).mapToDouble(Step::stepSeconds).toArray();
    }

    /** Returns the times at which the steps began, in s. */
    public double[] startSeconds() {
        return steps.stream().skip(1).mapToDouble(Step::startSeconds).toArray();
    }

    /** Returns the viscosity in each step, in Pa s. */
    public double[] viscosities() {
        return steps.stream().skip(1).mapToDouble(Step::viscosity).toArray();
    }

    /** Returns the bytes it holds. */
    public long bytes() {
        return steps.stream()
                .mapToLong(s -> s.state.length
                        + 8L
                                * (s.pressure.length
                                        + s.film.length
                                        + s.landGap.length
                                        + s.sagging.length
                                        + s.held.length))
                .sum();
    }

    /** Returns which tiles are full after the last step. */
    public boolean[] lastFull() {
        byte[] state = steps.get(steps.size() - 1).state;
        boolean[] full = new boolean[state.length];
        for (int i = 0; i < full.length; i++) {
            full[i] = state[i] == TileStates.FULL;
        }
        return full;
    }

    /** Returns the film under the protrusions after the last step, in m: where the stamp stands clear, all there is. */
    public double[] lastResidual() {
        Step last = steps.get(steps.size() - 1);
        double[] residual = new double[last.film.length];
        for (int i = 0; i < residual.length; i++) {
            residual[i] = Math.max(0, Math.min(last.landGap[i], last.film[i]));
        }
        return residual;
    }
}
