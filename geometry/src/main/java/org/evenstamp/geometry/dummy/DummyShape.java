package org.evenstamp.geometry.dummy;

import java.util.Locale;
import org.evenstamp.shared.problem.Problems;

/**
 * Outline of one dummy feature, its sides parallel to x and y. Lengths are rounded to 0.2 nm where dummies are placed.
 *
 * @param kind what it looks like
 * @param widthMetres extent along x
 * @param heightMetres extent along y
 * @param armMetres width of a cross's arms; 0 for all others
 */
public record DummyShape(Kind kind, double widthMetres, double heightMetres, double armMetres) {
    /** What a dummy looks like. */
    public enum Kind {
        /** A square. */
        SQUARE,
        /** A regular polygon of {@value DummyShape#DISC_VERTICES} corners on a circle. */
        DISC,
        /** A rectangle. */
        LINE,
        /** Two crossing bars of the same length and width. */
        CROSS
    }

    static final int DISC_VERTICES = 16;

    /** Returns a square. */
    public static DummyShape square(double sideMetres) {
        return new DummyShape(Kind.SQUARE, sideMetres, sideMetres, 0);
    }

    /** Returns a disc. */
    public static DummyShape disc(double diameterMetres) {
        return new DummyShape(Kind.DISC, diameterMetres, diameterMetres, 0);
    }

    /** Returns a line along x when it is wider than high, else along y. */
    public static DummyShape line(double widthMetres, double heightMetres) {
        return new DummyShape(Kind.LINE, widthMetres, heightMetres, 0);
    }

    /** Returns a cross. */
    public static DummyShape cross(double spanMetres, double armMetres) {
        return new DummyShape(Kind.CROSS, spanMetres, spanMetres, armMetres);
    }

    /** Adds what is wrong with the lengths; returns whether nothing is. */
    boolean check(String place, Problems problems) {
        int before = problems.all().size();
        for (double size : new double[] {widthMetres, heightMetres}) {
            if (!(size * Steps.PER_METRE >= 2) || Double.isInfinite(size)) {
                problems.add(
                        "dummy.size",
                        place,
                        "a dummy " + Steps.micrometres(size) + " long cannot be drawn",
                        "the least is 0.0002 um");
                break;
            }
        }
        if (kind == Kind.CROSS && !(armMetres * Steps.PER_METRE >= 2 && armMetres < widthMetres)) {
            problems.add(
                    "dummy.arm",
                    place,
                    "arms " + Steps.micrometres(armMetres) + " wide do not make a cross of "
                            + Steps.micrometres(widthMetres),
                    String.format(
                            Locale.ROOT, "above 0 and below %s; a third is usual", Steps.micrometres(widthMetres)));
        }
        return problems.all().size() == before;
    }
}
