package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The time after which film fills most of the volume of all cavities, as a goal of {@link FilmAdjoint}. It is the end of the last
 * step before {@value #MOST} of the volume are filled, so that no number between steps has to be guessed; what is filled then is
 * the share that is told. Unlike the time of the last tile it hangs on many tiles, so that the kinks of single ones count little.
 *
 * <p>With the volume V filled at the end of the step and its derivative by the length of that step, which is the rate of filling,
 * the time to the same share goes with anything else as {@code -dV/rate} (implicit functions).
 *
 * @param step at whose end it is
 * @param seconds since the start
 * @param share of the volume that is filled then, 0.5 to {@value #MOST}
 */
public record FillingTime(int step, double seconds, double share) {
    static final double MOST = 0.9;
    private static final double LEAST = 0.5;

    /** Finds it on the tape of a solve; empty when so much is never filled, or half of it and more in one step. */
    public static Optional<FillingTime> of(SolverInput input, FilmTape tape) {
        double volume = volume(input);
        for (int n = 1; n <= tape.length() && volume > 0; n++) {
            if (tape.filledMetres(n) >= MOST * volume) {
                double share = tape.filledMetres(n - 1) / volume;
                return share >= LEAST
                        ? Optional.of(new FillingTime(n - 1, tape.endSeconds(n - 1), share))
                        : Optional.empty();
            }
        }
        return Optional.empty();
    }

    private static double volume(SolverInput input) {
        return Arrays.stream(input.cavityVolume).sum();
    }

    /** Begins a way back from what is not filled. */
    void begin(FilmTape.Step end, StepAdjoint.Way way) {
        for (int i = 0; i < way.film.length; i++) {
            if (end.landGap()[i] <= end.film()[i]) {
                way.film[i] = -1;
                way.landGap[i] = end.landGap()[i] > 0 ? 1 : 0;
            }
        }
    }

    /** Returns how fast the cavities fill, from the way back to before any other use of it. */
    double rate(FilmTape tape, FilmGradient gradient) {
        return -gradient.logStep[step - 1] / tape.stepSeconds()[step - 1];
    }

    /** Ends a way back along which they do fill: adds what counts as filled, and makes times of volumes. */
    void end(SolverInput input, FilmTape tape, FilmGradient gradient, List<SolverInput> others) {
        double rate = rate(tape, gradient);
        for (int k = 0; k < others.size(); k++) {
            gradient.changes[k] += share * (volume(others.get(k)) - volume(input));
        }
        for (int i = 0; i < gradient.volume.length; i++) {
            gradient.volume[i] += share;
        }
        gradient.divide(rate);
        double[] steps = tape.stepSeconds();
        for (int n = 0; n < step; n++) {
            gradient.logStep[n] += steps[n];
        }
        for (int k = 0; k < others.size(); k++) {
            gradient.changes[k] += seconds(FilmAdjoint.stepsOf(input, tape, others.get(k))) - seconds;
        }
    }

    private double seconds(double[] steps) {
        return Arrays.stream(steps, 0, step).sum();
    }

    /**
     * Returns when another input fills the same share, to first order from what it filled in its own steps.
     *
     * @param gradient of this time, for the rate
     */
    public double secondsOf(SolverInput input, FilmTape tape, double[] steps, FilmGradient gradient) {
        return seconds(steps) + (share * volume(input) - tape.filledMetres(step)) / gradient.rate;
    }
}
