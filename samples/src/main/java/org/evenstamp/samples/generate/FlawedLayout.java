package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;

/**
 * A stamp on which everything is wrong that limits should catch, 3 mm x 3 mm about the origin; what is drawn is cavity.
 *
 * <p>From below: deep basins between thin walls, for which the film does not suffice and whose roofs sag; slender lines with slender
 * gaps, which pair in the film, buckle in the stamp and tear at release; lone slender lines, which tear first; lines so fine that
 * they melt away on the shelf and vanish in the etch. The rest is land without relief, where the film stays thick.
 */
public final class FlawedLayout {
    private static final double MICROMETRE = 1e-6;

    private FlawedLayout() {}

    /** Hands every polygon to the sink. */
    public static void draw(PolygonSink sink) {
        Pen pen = new Pen(sink, Traits.NONE);
        reservoir(pen.dipped(deep(0.4)));
        pen.dipped(lines(0.12, 0.06, 0.6)).box(-1300, 400, -500, 1400);
        Pen slender = pen.dipped(deep(0.6));
        for (double x = -250; x <= 250; x += 100) {
            slender.box(x, 400, x + 0.1, 1400);
        }
        pen.dipped(lines(0.06, 0.02, 0.05)).box(500, 400, 1300, 1400);
    }

    /** Basins between thin walls, so wide that their roofs sag. */
    private static void reservoir(Pen pen) {
        for (double y = -1300; y <= -100; y += 200) {
            for (double x = -700; x <= 700; x += 200) {
                pen.rectangle(x, y, 190, 190);
            }
        }
    }

    private static Traits deep(double micrometres) {
        return new Traits(micrometres * MICROMETRE, null, null, null);
    }

    private static Traits lines(double pitch, double width, double depth) {
        Texture texture =
                new Texture(Texture.Kind.LINES, pitch * MICROMETRE, width * MICROMETRE, 0, Texture.Lattice.SQUARE);
        return new Traits(depth * MICROMETRE, null, null, texture);
    }
}
