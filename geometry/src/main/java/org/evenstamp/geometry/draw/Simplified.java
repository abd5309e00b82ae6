package org.evenstamp.geometry.draw;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Rings with fewer vertices (Douglas and Peucker, Cartographica 10 (1973) 112: keep the vertex that stands out most). */
final class Simplified {
    private Simplified() {}

    /** Returns the polygon without the vertices that stand out by less than the tolerance. */
    static Sketch.Outline outline(Sketch.Outline polygon, double toleranceMetres) {
        List<double[]> rings = new ArrayList<>();
        for (double[] ring : polygon.rings()) {
            rings.add(ring(ring, toleranceMetres));
        }
        return new Sketch.Outline(polygon.look(), rings, polygon.repeat(), polygon.traits(), polygon.line());
    }

    /** Returns the ring, at least a triangle where it was one. */
    static double[] ring(double[] xy, double tolerance) {
        int n = xy.length / 2;
        if (n <= 4) {
            return xy;
        }
        // A ring has no ends: it is cut at its first vertex and the one farthest from there.
        int far = 1;
        for (int i = 2; i < n; i++) {
            if (distanceSquared(xy, 0, i) > distanceSquared(xy, 0, far)) {
                far = i;
            }
        }
        boolean[] keep = new boolean[n];
        keep[0] = true;
        keep[far] = true;
        thin(xy, 0, far, tolerance, keep);
        thin(xy, far, n, tolerance, keep);
        double[] kept = new double[xy.length];
        int count = 0;
        for (int i = 0; i < n; i++) {
            if (keep[i]) {
                kept[2 * count] = xy[2 * i];
                kept[2 * count + 1] = xy[2 * i + 1];
                count++;
            }
        }
        return count < 3
                ? new double[] {xy[0], xy[1], xy[2 * (n / 3)], xy[2 * (n / 3) + 1], xy[2 * far], xy[2 * far + 1]}
                : Arrays.copyOf(kept, 2 * count);
    }

    /** Marks what stands out between two kept vertices; stretches wait in a stack, since a ring may be long. */
    private static void thin(double[] xy, int first, int last, double tolerance, boolean[] keep) {
        int n = xy.length / 2;
        int[] stack = new int[64];
        int depth = 0;
        stack[depth++] = first;
        stack[depth++] = last;
        while (depth > 0) {
            int to = stack[--depth];
            int from = stack[--depth];
            double most = tolerance;
            int best = -1;
            for (int i = from + 1; i < to; i++) {
                double out = offLine(xy, i, from, to % n);
                if (out > most) {
                    most = out;
                    best = i;
                }
            }
            if (best >= 0) {
                keep[best] = true;
                if (depth + 4 > stack.length) {
                    stack = Arrays.copyOf(stack, stack.length * 2);
                }
                stack[depth++] = from;
                stack[depth++] = best;
                stack[depth++] = best;
                stack[depth++] = to;
            }
        }
    }

    /** Returns how far vertex i is from the segment between two others. */
    private static double offLine(double[] xy, int i, int from, int to) {
        double ax = xy[2 * from];
        double ay = xy[2 * from + 1];
        double dx = xy[2 * to] - ax;
        double dy = xy[2 * to + 1] - ay;
        double px = xy[2 * i] - ax;
        double py = xy[2 * i + 1] - ay;
        double square = dx * dx + dy * dy;
        double along = square > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / square)) : 0;
        return Math.hypot(px - along * dx, py - along * dy);
    }

    private static double distanceSquared(double[] xy, int a, int b) {
        double dx = xy[2 * a] - xy[2 * b];
        double dy = xy[2 * a + 1] - xy[2 * b + 1];
        return dx * dx + dy * dy;
    }
}
