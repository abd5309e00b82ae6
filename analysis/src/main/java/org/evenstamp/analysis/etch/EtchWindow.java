package org.evenstamp.analysis.etch;

import java.util.OptionalDouble;

/**
 * Earliest and latest time of an etch over many places: a window when the earliest does not come after the latest.
 *
 * <p>Each place has a residual {@code h} to clear at the rate {@code r}, and a latest time after which its feature is too
 * low, {@code (h + s)/r} with the height {@code s} it can spare, or too narrow: {@code 2 l t + 2 c (r t - h)} is the width lost
 * to the lateral rate {@code l} and to the lean of the walls with cotangent {@code c}, and {@code b} the width it can spare.
 * (Before the place is clear the second term is negative; by then the feature is too narrow only if the window is closed
 * anyway.)
 */
public final class EtchWindow {
    private final double[] residual;
    private final double[] rate;
    private final double[] lateral;
    private final double[] height;
    private final double[] width;
    private final double cotangent;

    /**
     * Takes one entry a place; the arrays are kept, not copied.
     *
     * @param residual h, m, not negative
     * @param rate r, m/s, positive
     * @param lateral l, m/s, not negative
     * @param height s, m; negative where the feature is too low from the start, infinite where there is none
     * @param width b, m; negative where the feature is too narrow from the start, infinite where there is none
     * @param cotangent c of the angle between walls and substrate, 0 for upright walls
     */
    public EtchWindow(
            double[] residual, double[] rate, double[] lateral, double[] height, double[] width, double cotangent) {
        int places = residual.length;
        if (places == 0
                || rate.length != places
                || lateral.length != places
                || height.length != places
                || width.length != places) {
            throw new IllegalArgumentException("arrays of " + places + ", " + rate.length + ", " + lateral.length + ", "
                    + height.length + " and " + width.length + " places");
        }
        this.residual = residual;
        this.rate = rate;
        this.lateral = lateral;
        this.height = height;
        this.width = width;
        this.cotangent = cotangent;
    }

    /** Returns the latest time that one place bears, s; may be negative, infinite where nothing is lost. */
    public double latestAt(int place) {
        return bearable(place, residual[place]);
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
     */
    public OptionalDouble spreadThatOpens() {
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
            earliest = Math.max(earliest, layer(i, share, mean) / rate[i]);
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
        double low = (layer + height[place]) / rate[place];
        double pace = 2 * (lateral[place] + cotangent * rate[place]);
        double room = width[place] + 2 * cotangent * layer;
        double narrow = room < 0 ? Double.NEGATIVE_INFINITY : pace > 0 ? room / pace : Double.POSITIVE_INFINITY;
        return Math.min(low, narrow);
    }
}
