package org.evenstamp.analysis.film.record;

import java.util.ArrayList;
import java.util.List;

/**
 * The film at some times: those asked for, or else a few that show its course.
 *
 * <p>Nobody knows beforehand how far the film will go. So where no times are asked for a state is kept when it differs from
 * the one kept before by a certain distance, and when too many are kept, that distance doubles and they are thinned. The
 * states then lie evenly along the way of the film, not along the clock, and the solver need not stop for them.
 */
public final class FilmSnapshots {
    private static final double FIRST_STEP_SHARE = 1e-3; // of the film's thickness

    private final double[] times;
    private final int most;
    private double least;
    private final List<State> states = new ArrayList<>();

    /** One of them. */
    public static final class State {
        private final double seconds;
        private final double[] gap;
        private final double[] filled;

        private State(double seconds, double[] gap, double[] filled) {
            this.seconds = seconds;
            this.gap = gap.clone();
            this.filled = filled.clone();
        }

        /** Returns its time. */
        public double seconds() {
            return seconds;
        }

        /** Returns the film under the protrusions, m. */
        public double[] gap() {
            return gap.clone();
        }

        /** Returns the filled cavity volume per area, m. */
        public double[] filled() {
            return filled.clone();
        }

        /** Returns the root mean square of what moved, in m. */
        double distance(double[] otherGap, double[] otherFilled) {
            double sum = 0;
            for (int i = 0; i < gap.length; i++) {
                double squeezed = gap[i] - otherGap[i];
                double taken = filled[i] - otherFilled[i];
                sum += squeezed * squeezed + taken * taken;
            }
            return Math.sqrt(sum / gap.length);
        }
    }

    private FilmSnapshots(double[] times, int most, double least) {
        this.times = times;
        this.most = most;
        this.least = least;
    }

    /** Keeps the states of these times. */
    public static FilmSnapshots at(double[] seconds) {
        return new FilmSnapshots(seconds.clone(), 0, 0);
    }

    /**
     * Keeps states along the way of the film.
     *
     * @param most how many; fewer than 3 are none
     * @param thicknessMetres of the film
     */
    public static FilmSnapshots along(int most, double thicknessMetres) {
        return new FilmSnapshots(new double[0], most < 3 ? 0 : most, FIRST_STEP_SHARE * thicknessMetres);
    }

    /** Looks at a state, later than all before. */
    void offer(double seconds, double[] gap, double[] filled) {
        if (asked(seconds) || (most > 0 && differs(gap, filled))) {
            states.add(new State(seconds, gap, filled));
        }
        while (most > 0 && states.size() > most) {
            least *= 2;
            List<State> all = List.copyOf(states);
            states.clear();
            all.stream().filter(state -> differs(state.gap, state.filled)).forEachOrdered(states::add);
        }
    }

    private boolean asked(double seconds) {
        for (double time : times) {
            if (time == seconds) {
                return true;
            }
        }
        return false;
    }

    private boolean differs(double[] gap, double[] filled) {
        return states.isEmpty() || states.get(states.size() - 1).distance(gap, filled) >= least;
    }

    /** Returns the states kept, in order of time. */
    public List<State> all() {
        return List.copyOf(states);
    }
}
