package org.evenstamp.geometry.clean;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.locationtech.jts.algorithm.Orientation;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.noding.BasicSegmentString;
import org.locationtech.jts.noding.MCIndexNoder;
import org.locationtech.jts.noding.SegmentIntersector;
import org.locationtech.jts.noding.SegmentString;

/**
 * Counts how often edges cross each other, up to a limit, before work is begun whose time grows with it: a tangle of a few
 * thousand edges crosses itself a million times.
 */
public final class Crossings {
    private final List<SegmentString> lines = new ArrayList<>();
    private final boolean touching;

    /**
     * Counts nothing yet.
     *
     * @param touching whether edges that touch, or run along each other, count too; neighbours in a ring never do
     */
    public Crossings(boolean touching) {
        this.touching = touching;
    }

    /** Adds all rings of a polygon. */
    public void add(PackedPolygon polygon) {
        for (int ring = 0; ring < polygon.rings; ring++) {
            int start = polygon.ringStart(ring);
            int count = polygon.ringEnd[ring] - start;
            if (count == 0) {
                continue;
            }
            Coordinate[] points = new Coordinate[count + 1];
            for (int i = 0; i <= count; i++) {
                int vertex = start + i % count;
                points[i] = new Coordinate(polygon.xy[2 * vertex], polygon.xy[2 * vertex + 1]);
            }
            lines.add(new BasicSegmentString(points, null));
        }
    }

    /** Returns whether more than {@code limit} pairs of edges cross. */
    public boolean moreThan(long limit) {
        Counter counter = new Counter(limit, touching);
        new MCIndexNoder(counter).computeNodes(lines);
        return counter.isDone();
    }

    private static final class Counter implements SegmentIntersector {
        private final long limit;
        private final int most;
        private long count;

        Counter(long limit, boolean touching) {
            this.limit = limit;
            this.most = touching ? 0 : -1;
        }

        @Override
        public void processIntersections(SegmentString a, int i, SegmentString b, int j) {
            int apart = Math.abs(i - j);
            if (a == b && (apart <= 1 || apart == a.size() - 2)) {
                return; // the same edge, or neighbours
            }
            Coordinate a0 = a.getCoordinate(i);
            Coordinate a1 = a.getCoordinate(i + 1);
            Coordinate b0 = b.getCoordinate(j);
            Coordinate b1 = b.getCoordinate(j + 1);
            boolean crosses = Orientation.index(a0, a1, b0) * Orientation.index(a0, a1, b1) <= most
                    && Orientation.index(b0, b1, a0) * Orientation.index(b0, b1, a1) <= most;
            count += crosses ? 1 : 0;
        }

        @Override
        public boolean isDone() {
            return count > limit;
        }
    }
}
