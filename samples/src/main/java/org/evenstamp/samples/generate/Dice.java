package org.evenstamp.samples.generate;

import java.util.SplittableRandom;

/**
 * Random numbers that are the same on every Java release: only the generator's 64-bit stream is used, whose algorithm its
 * documentation fixes, none of the derived draws, whose algorithms have changed between releases.
 */
final class Dice {
    private final SplittableRandom random;

    Dice(long seed) {
        random = new SplittableRandom(seed);
    }

    /** Returns a number in [0, 1). */
    double fraction() {
        return (random.nextLong() >>> 11) * 0x1p-53;
    }

    /** Returns a number in [from, to). */
    double between(double from, double to) {
        return from + fraction() * (to - from);
    }

    /** Returns a whole number from 0 up to but without {@code bound}. */
    int below(int bound) {
        return (int) (fraction() * bound);
    }
}
