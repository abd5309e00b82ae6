package org.evenstamp.geometry.layout;

import java.util.Arrays;

/**
 * One polygon in plain arrays, reused by its source: valid only during the call that hands it over.
 *
 * <p>Vertex {@code i} is ({@code xy[2 i]}, {@code xy[2 i + 1]}) in metres, x to the right, y up. Ring {@code r} is the
 * vertices {@code ringEnd[r - 1]} (0 for the first ring) up to but without {@code ringEnd[r]}; the closing vertex is not
 * repeated. Ring 0 is the outline, the others are holes. Rings may turn either way.
 */
public final class PackedPolygon {
    /** Coordinates in metres, x and y in turn; longer than needed. */
    public double[] xy = new double[256];
    /** For every ring, the index of the vertex after its last; longer than needed. */
    public int[] ringEnd = new int[4];
    /** Number of rings in use. */
    public int rings;
    /** The feature's properties. */
    public Traits traits = Traits.NONE;
    /** Number of the piece of the source that the polygon came from; the same in every pass. */
    public int chunk;
    /** Number of the polygon within its chunk; the same in every pass. */
    public int ordinal;
    /** Which of the features that its worker has read it belongs to, from 0: of the file, when one worker reads it. */
    public long feature;
    /** Line of the file on which the feature begins, from 1; 0 when it has none. */
    public long line;

    /** Forgets all rings. */
    public void clear() {
        rings = 0;
    }

    /** Returns the number of vertices of all rings. */
    public int vertices() {
        return rings == 0 ? 0 : ringEnd[rings - 1];
    }

    /** Returns the index of the first vertex of a ring. */
    public int ringStart(int ring) {
        return ring == 0 ? 0 : ringEnd[ring - 1];
    }

    /** Makes room for {@code vertices} vertices in all. */
    public void ensureVertices(int vertices) {
        if (xy.length < 2 * vertices) {
            xy = Arrays.copyOf(xy, Math.max(2 * vertices, xy.length * 2));
        }
    }

    /** Ends a ring after the vertex before {@code endVertex}. */
    public void endRing(int endVertex) {
        if (rings == ringEnd.length) {
            ringEnd = Arrays.copyOf(ringEnd, rings * 2);
        }
        ringEnd[rings++] = endVertex;
    }

    /** Writes left, lower, right and upper end of the outline, in metres. */
    public void box(double[] into) {
        double x0 = Double.POSITIVE_INFINITY;
        double y0 = Double.POSITIVE_INFINITY;
        double x1 = Double.NEGATIVE_INFINITY;
        double y1 = Double.NEGATIVE_INFINITY;
        int end = 2 * ringEnd[0];
        for (int i = 0; i < end; i += 2) {
            x0 = Math.min(x0, xy[i]);
            x1 = Math.max(x1, xy[i]);
            y0 = Math.min(y0, xy[i + 1]);
            y1 = Math.max(y1, xy[i + 1]);
        }
        into[0] = x0;
        into[1] = y0;
        into[2] = x1;
        into[3] = y1;
    }

    /** Returns twice the signed area of a ring in square metres, positive when it turns counterclockwise. */
    public double twiceSignedArea(int ring) {
        int start = ringStart(ring);
        int end = ringEnd[ring];
        // Relative to the first vertex: layouts sit far from the origin and the products would lose the small digits.
        double x0 = xy[2 * start];
        double y0 = xy[2 * start + 1];
        double sum = 0;
        for (int i = start + 1; i + 1 < end; i++) {
            sum += (xy[2 * i] - x0) * (xy[2 * i + 3] - y0) - (xy[2 * i + 2] - x0) * (xy[2 * i + 1] - y0);
        }
        return sum;
    }
}
