package org.evenstamp.geometry.dummy;

import java.util.Locale;

/** Lengths in steps of 0.1 nm, the grid on which layouts are written. */
final class Steps {
    static final double PER_METRE = 1e10;
    /** Nearer to a whole step than this is rounding of a number that was whole. */
    private static final double ROUNDING = 1e-6;

    private Steps() {}

    /** Returns a length in steps, whole if it is so but for rounding. */
    static double of(double metres) {
        double steps = metres * PER_METRE;
        double whole = Math.rint(steps);
        return Math.abs(steps - whole) <= ROUNDING ? whole : steps;
    }

    /** Returns the least whole number of steps that is not shorter. */
    static long up(double metres) {
        return (long) Math.ceil(of(metres));
    }

    /** Returns the largest whole number of steps that is not longer. */
    static long down(double metres) {
        return (long) Math.floor(of(metres));
    }

    /** Returns half of a length that is first rounded to an even number of steps. */
    static long half(double metres) {
        return Math.round(metres * PER_METRE / 2);
    }

    /** Returns metres; the double next to the decimal number. */
    static double metres(long steps) {
        return steps / PER_METRE;
    }

    static double squareMetres(long squareSteps) {
        return squareSteps / (PER_METRE * PER_METRE);
    }

    /** Spells a length for a person. */
    static String micrometres(double metres) {
        return String.format(Locale.ROOT, "%.6g um", metres * 1e6).replaceFirst("\\.?0+ um$", " um");
    }
}
