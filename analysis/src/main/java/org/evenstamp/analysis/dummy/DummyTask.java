package org.evenstamp.analysis.dummy;

import java.util.Arrays;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;

/**
 * What is asked: averages as they stand, and how much each tile may change. Immutable.
 *
 * <p>With amounts x the averages become {@code base + K x}, where {@code least <= x <= most}. Averages may count differently: by
 * their weights in a variance, and in a range where they have any.
 */
public final class DummyTask {
    private final Window window;
    final double[] base;
    final double[] least;
    final double[] most;
    /** How much each average counts, 1 on the mean. */
    private final double[] weights;

    /** The largest weight. */
    final double largestWeight;

    private final boolean even;

    /** How the objective of a program, summed over the tiles, goes with each amount beyond what the averages say. */
    final double[] tilt;

    private DummyTask(Window window, double[] base, double[] least, double[] most, double[] weights, double[] tilt) {
        this.tilt = tilt;
        this.window = window;
        this.weights = weights;
        this.largestWeight = Arrays.stream(weights).max().orElse(1);
        this.even = Arrays.stream(weights).allMatch(weight -> weight == 1);
        this.base = base;
        this.least = least;
        this.most = most;
    }

    /**
     * Asks for cavities in a layout.
     *
     * @param volume cavity volume per area of each tile, m
     * @param room most volume per area that may be added, m
     * @throws InputException when a number is not finite or a room negative
     */
    public static DummyTask cavities(Window window, double[] volume, double[] room) {
        return of(window, averaged(window, volume), new double[room.length], room);
    }

    /**
     * Asks for amounts of either sign.
     *
     * @param base averages without dummies, m: {@code K volume}, or what a solver found them to be
     * @param least smallest amount of each tile, m, zero or below
     * @param most largest amount of each tile, m, zero or above
     * @throws InputException when a number is not finite, or zero is not among the amounts allowed
     */
    public static DummyTask of(Window window, double[] base, double[] least, double[] most) {
        if (base.length != window.windows() || least.length != window.tiles() || most.length != window.tiles()) {
            throw new IllegalArgumentException("arrays do not fit " + window.tiles() + " tiles and " + window.windows()
                    + " windows: " + base.length + ", " + least.length + ", " + most.length);
        }
        Problems problems = new Problems();
        int place = firstNotFinite(base);
        if (place >= 0) {
            problems.add(
                    "fill.not-finite",
                    "volume",
                    "the averaged volume " + place + " is " + base[place],
                    "measure again");
        }
        for (int i = 0; i < most.length; i++) {
            if (!Double.isFinite(most[i]) || !Double.isFinite(least[i])) {
                problems.add(
                        "fill.not-finite",
                        "room",
                        "the room of tile " + i + " is " + least[i] + " to " + most[i] + " m",
                        "give finite numbers");
                break;
            }
            if (most[i] < 0 || least[i] > 0) {
                problems.add(
                        "fill.room",
                        "room",
                        "tile " + i + " may change by " + least[i] + " to " + most[i] + " m only, not by nothing",
                        "the nearest range that a layout without dummies meets is " + Math.min(0, least[i]) + " to "
                                + Math.max(0, most[i]) + " m");
                break;
            }
        }
        problems.throwIfAny();
        double[] weights = new double[base.length];
        Arrays.fill(weights, 1);
        return new DummyTask(window, base.clone(), least.clone(), most.clone(), weights, new double[least.length]);
    }

    /**
     * Returns the same task in which averages count as much as they weigh.
     *
     * @param weigh a weight for every window, zero or more, in any scale
     * @throws InputException when a weight is negative or not finite, or all are 0
     */
    public DummyTask weighted(double[] weigh) {
        if (weigh.length != base.length) {
            throw new IllegalArgumentException(weigh.length + " weights for " + base.length + " windows");
        }
        double sum = 0;
        for (double weight : weigh) {
            sum += weight >= 0 ? weight : Double.NaN;
        }
        if (!(sum > 0) || Double.isInfinite(sum)) {
            throw new InputException(
                    "fill.weights",
                    "weights",
                    "no tile counts, or some weigh less than nothing",
                    "give at least one region on the stamp a positive weight");
        }
        double[] scaled = new double[weigh.length];
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] = weigh[i] * scaled.length / sum;
        }
        return new DummyTask(window, base, least, most, scaled, tilt);
    }

    /**
     * Returns the same task with a linear term: what each metre of a tile's amount adds to the objective of a program, summed
     * over the tiles (that of a variance) or as it is (that of a range). It makes the slope of the averaged objective that of
     * a solved one.
     */
    public DummyTask tilted(double[] slopes) {
        if (slopes.length != least.length || firstNotFinite(slopes) >= 0) {
            throw new IllegalArgumentException("a slope for each of " + least.length + " tiles, all finite");
        }
        return new DummyTask(window, base, least, most, weights, slopes.clone());
    }

    /** Returns whether there is a linear term. */
    boolean tilts() {
        return Arrays.stream(tilt).anyMatch(slope -> slope != 0);
    }

    /** Returns the standard deviation of the averages without amounts, as they count. */
    double deviation() {
        double[] averages = base.clone();
        return Math.sqrt(centre(averages, 0) / averages.length);
    }

    /** Returns whether an average counts at all. */
    boolean counts(int average) {
        return weights[average] > 0;
    }

    /**
     * Takes the weighted mean from averages and multiplies what is left by the weights; returns the weighted sum of squares.
     *
     * @param rounding what is left and smaller counts as nothing
     */
    double centre(double[] averages, double rounding) {
        double mean = 0;
        for (int i = 0; i < averages.length; i++) {
            mean += weights[i] * averages[i];
        }
        mean /= averages.length;
        double squares = 0;
        for (int i = 0; i < averages.length; i++) {
            double left = averages[i] - mean;
            double step = Math.abs(left) < rounding ? 0 : left;
            averages[i] = weights[i] * step;
            squares += averages[i] * step;
        }
        return squares;
    }

    /** Writes how half the weighted sum of squares changes with the amounts, as {@link Window#slope} does for even weights. */
    void slope(double[] amounts, double[] slope, double[] scratch) {
        if (even) {
            window.slope(amounts, slope, scratch);
        } else {
            window.average(amounts, scratch);
            centre(scratch, 0);
            window.spread(scratch, slope);
        }
    }

    private static double[] averaged(Window window, double[] volume) {
        double[] base = new double[window.windows()];
        int bad = firstNotFinite(volume);
        if (bad >= 0) {
            throw new InputException(
                    "fill.not-finite", "volume", "the volume of tile " + bad + " is " + volume[bad], "measure again");
        }
        window.average(volume, base);
        return base;
    }

    private static int firstNotFinite(double[] values) {
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                return i;
            }
        }
        return -1;
    }

    /** Returns how neighbours are averaged. */
    public Window window() {
        return window;
    }

    /** Returns the amount allowed in a tile that is nearest to a wish. */
    double clip(int tile, double amount) {
        return Math.max(least[tile], Math.min(most[tile], amount));
    }

    /** Returns {@code sign(wish) max(|wish| - price, 0)}, clipped: the nearest amount when each metre costs the price. */
    double priced(int tile, double wish, double price) {
        return clip(tile, wish > price ? wish - price : wish < -price ? wish + price : 0);
    }
}
