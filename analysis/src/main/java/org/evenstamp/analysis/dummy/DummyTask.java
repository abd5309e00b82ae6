package org.evenstamp.analysis.dummy;

import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;

/**
 * What is asked: averages as they stand, and how much each tile may change. Immutable.
 *
 * <p>With amounts x the averages become {@code base + K x}, where {@code least <= x <= most}.
 */
public final class DummyTask {
    private final Window window;
    final double[] base;
    final double[] least;
    final double[] most;

    private DummyTask(Window window, double[] base, double[] least, double[] most) {
        this.window = window;
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
        return new DummyTask(window, base.clone(), least.clone(), most.clone());
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
