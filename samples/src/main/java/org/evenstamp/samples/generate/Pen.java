package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Traits;

/**
 * Draws shapes into a sink. All lengths are in micrometres, x to the right, y up; vertices are rounded to 10 nm.
 *
 * <p>A pen has one ink, the traits of what it draws; {@link #dipped} gives a pen with another.
 */
final class Pen {
    private static final double METRES_PER_STEP = 1e-8;
    private static final double STEPS_PER_MICROMETRE = 100;

    private final PolygonSink sink;
    private final Traits ink;
    private final PackedPolygon polygon = new PackedPolygon();
    private int vertices;

    Pen(PolygonSink sink, Traits ink) {
        this.sink = sink;
        this.ink = ink;
    }

    /** Returns a pen that draws into the same sink with these traits. */
    Pen dipped(Traits other) {
        return new Pen(sink, other);
    }

    /** Draws a polygon without holes through the points x, y, x, y, ... */
    void polygon(double... xy) {
        begin();
        for (int i = 0; i < xy.length; i += 2) {
            to(xy[i], xy[i + 1]);
        }
        endRing();
        end();
    }

    /** Draws the rectangle between two corners. */
    void box(double minX, double minY, double maxX, double maxY) {
        polygon(minX, minY, maxX, minY, maxX, maxY, minX, maxY);
    }

    /** Draws a rectangle about its centre. */
    void rectangle(double x, double y, double width, double height) {
        box(x - width / 2, y - height / 2, x + width / 2, y + height / 2);
    }

    /** Draws a regular polygon of {@code corners} corners that lie on a circle. */
    void disc(double x, double y, double radius, int corners) {
        begin();
        circle(x, y, radius, corners);
        end();
    }

    /** Draws the ring between two circles. */
    void annulus(double x, double y, double outerRadius, double innerRadius, int corners) {
        begin();
        circle(x, y, outerRadius, corners);
        circle(x, y, innerRadius, corners);
        end();
    }

    /** Draws a square with a square hole, both about one centre. */
    void frame(double x, double y, double outerSide, double innerSide) {
        begin();
        square(x, y, outerSide);
        square(x, y, innerSide);
        end();
    }

    /** Draws an upright cross of two bars. */
    void cross(double x, double y, double span, double width) {
        double a = span / 2;
        double b = width / 2;
        polygon(
                x - b, y - a, x + b, y - a, x + b, y - b, x + a, y - b, x + a, y + b, x + b, y + b, //
                x + b, y + a, x - b, y + a, x - b, y + b, x - a, y + b, x - a, y - b, x - b, y - b);
    }

    /** Draws a wire of constant width along the points x, y, x, y, ..., with mitred bends and square ends. */
    void path(double width, double... xy) {
        int points = xy.length / 2;
        begin();
        for (int i = 0; i < points; i++) {
            pathSide(xy, i, width / 2);
        }
        for (int i = points - 1; i >= 0; i--) {
            pathSide(xy, i, -width / 2);
        }
        endRing();
        end();
    }

    private void pathSide(double[] xy, int point, double offset) {
        int last = xy.length / 2 - 1;
        double inX = 0;
        double inY = 0;
        double outX = 0;
        double outY = 0;
        if (point > 0) {
            double dx = xy[2 * point] - xy[2 * point - 2];
            double dy = xy[2 * point + 1] - xy[2 * point - 1];
            double length = Math.sqrt(dx * dx + dy * dy);
            inX = -dy / length;
            inY = dx / length;
        }
        if (point < last) {
            double dx = xy[2 * point + 2] - xy[2 * point];
            double dy = xy[2 * point + 3] - xy[2 * point + 1];
            double length = Math.sqrt(dx * dx + dy * dy);
            outX = -dy / length;
            outY = dx / length;
        }
        // Sum of the two normals n1 + n2, stretched so that its part along each is the offset: n1.(n1 + n2) = 1 +
        // n1.n2.
        boolean end = point == 0 || point == last;
        double stretch = end ? offset : offset / (1 + inX * outX + inY * outY);
        to(xy[2 * point] + (inX + outX) * stretch, xy[2 * point + 1] + (inY + outY) * stretch);
    }

    /** Starts a polygon of several rings; {@link #circle} and {@link #square} add rings, {@link #end} hands it over. */
    void begin() {
        polygon.clear();
        vertices = 0;
    }

    /** Adds a round ring. */
    void circle(double x, double y, double radius, int corners) {
        for (int i = 0; i < corners; i++) {
            // StrictMath: the same last digit on every machine.
            double angle = 2 * Math.PI * (i + 0.5) / corners;
            to(x + radius * StrictMath.cos(angle), y + radius * StrictMath.sin(angle));
        }
        endRing();
    }

    private void square(double x, double y, double side) {
        to(x - side / 2, y - side / 2);
        to(x + side / 2, y - side / 2);
        to(x + side / 2, y + side / 2);
        to(x - side / 2, y + side / 2);
        endRing();
    }

    private void to(double x, double y) {
        polygon.ensureVertices(vertices + 1);
        polygon.xy[2 * vertices] = Math.rint(x * STEPS_PER_MICROMETRE) * METRES_PER_STEP;
        polygon.xy[2 * vertices + 1] = Math.rint(y * STEPS_PER_MICROMETRE) * METRES_PER_STEP;
        vertices++;
    }

    private void endRing() {
        polygon.endRing(vertices);
    }

    /** Hands the polygon over. */
    void end() {
        polygon.traits = ink;
        sink.accept(polygon);
    }

    /** A cup of eight corners that opens up (1) or down (-1). */
    void cup(double x, double y, double side, int opening) {
        double a = side / 2;
        double b = side / 4;
        double s = opening;
        polygon(
                x - a, y - s * a, x + a, y - s * a, x + a, y + s * a, x + b, y + s * a, //
                x + b, y - s * b, x - b, y - s * b, x - b, y + s * a, x - a, y + s * a);
    }
}
