package org.evenstamp.analysis.etch;

/**
 * An opening between features, at whose bottom an etch runs slower than on open film since less of what etches gets there.
 *
 * <p>Of what enters, the share {@code K} would pass a channel of that depth and width without pressure to speak of, its walls throwing back all
 * at random (Clausing). The bottom takes the share {@code S} of what meets it and throws back the rest, of which {@code K} leaves. The
 * balance gives the rate at the bottom over that on open film, {@code K/(K + S - K S)}: J.W. Coburn and H.F. Winters, Appl. Phys. Lett. 55 (1989) 2730
 * (place from memory, the balance derived). {@code K} of slots and round holes: closed forms of A.S. Berman, J. Appl. Phys. 36 (1965) 3356 (from
 * memory), within 0.1 % of the exact solution to a depth of ten widths; between slot and hole a straight line in the shape factor.
 *
 * <p>Valid where neutral gas limits the rate and its free path is long beside the opening; ions, charging and what settles on the walls
 * are left out.
 */
final class NarrowOpening {
    private static final int STEPS = 8; // Runge-Kutta: below 1e-6 of the time, see the tests
    private static final double SHALLOW =
            0.05; // depth over width below which the closed forms cancel: 1/(1 + x/2) within 1e-5

    private final double reaction;
    private final double shape;
    private final double width;
    private final double depth;

    /**
     * Makes an opening.
     *
     * @param reaction S, 0..1; 0 for a rate that does not depend on the opening
     * @param shape perimeter times width over area: 2 for a slot, 4 for a hole
     * @param width m, positive
     * @param depth from the tops of the features to the residual layer, m
     */
    NarrowOpening(double reaction, double shape, double width, double depth) {
        this.reaction = reaction;
        this.shape = shape;
        this.width = width;
        this.depth = depth;
    }

    /** Returns the share of molecules that pass a slot between plates, by its length over their distance. */
    static double throughSlot(double x) {
        if (x < SHALLOW) {
            return 1 / (1 + x / 2);
        }
        double s = Math.sqrt(1 + x * x);
        double bent = x - Math.log(x + s);
        return (1 + s - x) / 2 - 1.5 * bent * bent / (x * x * x + 3 * x * x + 4 - (x * x + 4) * s);
    }

    /** Returns the share of molecules that pass a round tube, by its length over its radius. */
    static double throughTube(double x) {
        if (x < SHALLOW) {
            return 1 / (1 + x / 2);
        }
        double s = Math.sqrt(x * x + 4);
        double top = (8 - x * x) * s + x * x * x - 16;
        return 1 + x * x / 4 - x / 4 * s - top * top / (72 * x * s - 288 * Math.log((x + s) / 2));
    }

    /** Returns whether the rate depends on the opening at all. */
    boolean slows() {
        return reaction > 0;
    }

    /** Returns the rate at the bottom over that on open film, at a depth, m. */
    double slowing(double at) {
        if (reaction == 0 || at <= 0) {
            return 1;
        }
        double hole = Math.min(1, Math.max(0, (shape - 2) / 2));
        double pass = (1 - hole) * throughSlot(at / width) + hole * throughTube(2 * at / width);
        return pass / (pass + reaction - pass * reaction);
    }

    /** Returns the rate at the bottom over that on open film when the etch begins. */
    double slowing() {
        return slowing(depth);
    }

    /**
     * Returns the time to etch the layer at the bottom, s. The tops go at the full rate meanwhile, so that the opening becomes shallower by what they
     * lose more than the bottom.
     *
     * @param layer m
     * @param rate on open film, m/s
     */
    double clearSeconds(double layer, double rate) {
        if (reaction == 0) {
            return layer / rate;
        }
        double step = layer / STEPS;
        double at = depth;
        double sum = 0; // of layer over slowing
        for (int n = 0; n < STEPS; n++) {
            double a = 1 / slowing(at);
            double b = 1 / slowing(at + step / 2 * (1 - a));
            double c = 1 / slowing(at + step / 2 * (1 - b));
            double d = 1 / slowing(at + step * (1 - c));
            double mean = (a + 2 * b + 2 * c + d) / 6;
            sum += step * mean;
            at += step * (1 - mean);
        }
        return sum / rate;
    }

    /** Returns the time in which the tops lose a height against the bottom, s, while the layer is not yet clear; infinite where they never do. */
    double seconds(double height, double rate) {
        if (reaction == 0 || height >= depth) {
            return height <= 0 ? 0 : Double.POSITIVE_INFINITY;
        }
        double step = height / STEPS;
        double sum = 0; // Simpson over the depth that is left
        for (int n = 0; n < STEPS; n++) {
            double at = depth - n * step;
            sum += step / 6 * (1 / (1 - slowing(at)) + 4 / (1 - slowing(at - step / 2)) + 1 / (1 - slowing(at - step)));
        }
        return sum / rate;
    }
}
