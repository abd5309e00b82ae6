package org.evenstamp.analysis.etch;

import java.util.OptionalDouble;

/**
 * Earliest and latest time of an etch over many places: a window when the earliest does not come after the latest.
 *
 * <p>Each place has a residual {@code h} that is clear at {@code t_c}, {@code h/r} with the rate {@code r} that the whole area has until then, later in
 * a {@link NarrowOpening}; from then on its features lose height at {@code r'}. They are too low after {@code t_c + s/r'} with the height {@code s} they can
 * spare beyond what they have lost by then, {@code r t_c - h}, and
 * too narrow when {@code 2 l t_c + 2 (l' + c r') (t - t_c)}, lost to the lateral rates before and after and to the lean of the walls with cotangent
 * {@code c}, reaches the width {@code b} they can spare.
 */
public final class EtchWindow {
    private final double[] residual;
    private final EtchRates.Pair before;
    private final EtchRates.Pair[] after;
    private final double[] height;
    private final double[] width;
    private final double cotangent;
    private final NarrowOpening[] openings;

    /**
     * Takes one entry a place; the arrays are kept, not copied.
     *
     * @param residual h, m, not negative
     * @param before rates until the place is clear
     * @param after rates from then on
     * @param height s, m; negative where the feature is too low from the start, infinite where there is none
     * @param width b, m; negative where the feature is too narrow from the start, infinite where there is none
     * @param cotangent c of the angle between walls and substrate, 0 for upright walls
     * @param openings between the features
     */
    EtchWindow(
            double[] residual,
            EtchRates.Pair before,
            EtchRates.Pair[] after,
            double[] height,
            double[] width,
            double cotangent,
            NarrowOpening[] openings) {
        int places = residual.length;
        if (places == 0 || after.length != places || height.length != places || width.length != places) {
            throw new IllegalArgumentException("arrays of " + places + ", " + after.length + ", " + height.length
                    + " and " + width.length + " places");
        }
        this.residual = residual;
        this.before = before;
        this.after = after;
        this.height = height;
        this.width = width;
        this.cotangent = cotangent;
        this.openings = openings;
    }

    /** Returns the latest time that one place bears, s; may be negative, infinite where nothing is lost. */
    public double latestAt(int place) {
        return bearable(place, residual[place]);
    }

    /** Returns the time after which one place is clear, s. */
    double clearAt(int place) {
        return clear(place, residual[place]);
    }

    /** Returns what the tops of a place have lost against the bottom of its opening when that is clear, m. */
    double earlyAt(int place) {
        return early(place, residual[place], clearAt(place));
    }

    private double early(int place, double layer, double clear) {
        return openings[place].slows() ? before.vertical() * clear - layer : 0;
    }

    private double clear(int place, double layer) {
        return openings[place].clearSeconds(layer, before.vertical());
    }

    /** Returns the time when the last place is clear, s. */
    public double earliest() {
        return earliest(1, 0);
    }

    /** Returns the time when the first feature becomes too small, s; infinite when none ever does. */
    public double latest() {
        return latest(1, 0);
    }

    /** Returns whether some time serves all places. */
    public boolean open() {
        return earliest() <= latest();
    }

    /**
     * Returns the largest spread of the residual (max - min), m, at which there is a window, the mean kept and every place
     * moved towards it by the same share: the present spread when the window is open, and empty when even a perfectly even
     * residual leaves none. Found by bisection to 1e-12 of the present spread: the gap is a convex function of the share.
     *
     * @param between asked again and again, to throw where somebody wants an end
     */
    OptionalDouble spreadThatOpens(Runnable between) {
        Uniformity present = Uniformity.of(residual);
        if (open()) {
            return OptionalDouble.of(present.spread());
        }
        double fits = 0;
        if (!open(fits, present.mean())) {
            return OptionalDouble.empty();
        }
        double fails = 1;
        for (int halving = 0; halving < 40; halving++) {
            between.run();
            double middle = (fits + fails) / 2;
            if (open(middle, present.mean())) {
                fits = middle;
            } else {
                fails = middle;
            }
        }
        return OptionalDouble.of(fits * present.spread());
    }

    private boolean open(double share, double mean) {
        return earliest(share, mean) <= latest(share, mean);
    }

    private double earliest(double share, double mean) {
        double earliest = 0;
        for (int i = 0; i < residual.length; i++) {
            earliest = Math.max(earliest, clear(i, layer(i, share, mean)));
        }
        return earliest;
    }

    private double latest(double share, double mean) {
        double latest = Double.POSITIVE_INFINITY;
        for (int i = 0; i < residual.length; i++) {
            latest = Math.min(latest, bearable(i, layer(i, share, mean)));
        }
        return latest;
    }

    /** The residual moved towards the mean; untouched, to the last bit, at share 1 with mean 0. */
    private double layer(int place, double share, double mean) {
        return mean + share * (residual[place] - mean);
    }

    private double bearable(int place, double layer) {
        double clear = clear(place, layer);
        double early = early(place, layer, clear);
        double spared = height[place] - early;
        double low;
        if (height[place] < 0) {
            low = (layer + height[place]) / before.vertical();
        } else if (spared < 0) {
            low = openings[place].seconds(height[place], before.vertical());
        } else {
            low = clear + spared / after[place].vertical();
        }
        double spare = width[place] - 2 * (before.lateral() * clear + cotangent * early);
        double pace = 2 * (after[place].lateral() + cotangent * after[place].vertical());
        double narrow = width[place] < 0
                ? Double.NEGATIVE_INFINITY
                : spare < 0
                        ? width[place] / (2 * before.lateral())
                        : pace > 0 ? clear + spare / pace : Double.POSITIVE_INFINITY;
        return Math.min(low, narrow);
    }
}
