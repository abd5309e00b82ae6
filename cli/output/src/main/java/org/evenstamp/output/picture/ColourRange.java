package org.evenstamp.output.picture;

import org.evenstamp.shared.field.Field;

/**
 * Which values the colours of a map stand for.
 *
 * @param low value of the darkest colour, display unit
 * @param high value of the lightest colour, at least {@code low}
 * @param below number of tiles with a smaller value
 * @param above number of tiles with a larger value
 * @param signed whether the sign matters: zero is in the middle, and each side has its own colour
 */
public record ColourRange(double low, double high, int below, int above, boolean signed) {
    /** What ids of fields begin with whose sign says whether something helps. */
    public static final String SIGNED = "help.";

    private static final double TAIL = 0.005;
    private static final double DOMINATED = 0.4;

    /** Makes a range of plain values. */
    public ColourRange(double low, double high, int below, int above) {
        this(low, high, below, above, false);
    }

    /**
     * Chooses the range: all values, unless a few outliers would leave the rest almost one colour; then the middle 99 % of
     * the tiles.
     *
     * @param field a field with at least one known value
     */
    public static ColourRange of(Field field) {
        ColourRange plain = plain(field);
        if (!field.name().id().startsWith(SIGNED)) {
            return plain;
        }
        double most = Math.max(Math.abs(plain.low), Math.abs(plain.high));
        return new ColourRange(-most, most, plain.below, plain.above, true);
    }

    private static ColourRange plain(Field field) {
        double[] sorted = field.sorted();
        for (int i = 0; i < sorted.length; i++) {
            sorted[i] = field.name().unit().fromSi(sorted[i]);
        }
        int last = sorted.length - 1;
        int tail = (int) (TAIL * sorted.length); // none on a small grid, where every tile counts
        double low = sorted[tail];
        double high = sorted[last - tail];
        double full = sorted[last] - sorted[0];
        if (high > low && high - low < DOMINATED * full) {
            int below = 0;
            int above = 0;
            for (double value : sorted) {
                below += value < low ? 1 : 0;
                above += value > high ? 1 : 0;
            }
            return new ColourRange(low, high, below, above);
        }
        return new ColourRange(sorted[0], sorted[last], 0, 0);
    }

    /** Returns the colour, 0xRRGGBB, of a place between the ends. */
    int colour(double share) {
        return signed ? ColourScale.twoSided(share) : ColourScale.at(share);
    }

    /** Returns where a value stands between the ends, 0 to 1 inside. */
    public double share(double value) {
        return high > low ? (value - low) / (high - low) : 0.5;
    }
}
