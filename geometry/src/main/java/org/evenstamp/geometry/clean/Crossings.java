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

    /** Returns whether edges cross in more than {@code limit} places; where they only touch does not count. */
    public boolean moreThan(long limit) {
        Counter counter = new Counter(limit);
        new MCIndexNoder(counter).computeNodes(lines);
        return counter.isDone();
    }

    private static final class Counter implements SegmentIntersector {
        private final long limit;
        private long count;

        Counter(long limit) {
            this.limit = limit;
        }

        @Override
        public void processIntersections(SegmentString a, int i, SegmentString b, int j) {
            if (a == b && i == j) {
                return;
            }
            Coordinate a0 = a.getCoordinate(i);
            Coordinate a1 = a.getCoordinate(i + 1);
            Coordinate b0 = b.getCoordinate(j);
            Coordinate b1 = b.getCoordinate(j + 1);
            boolean crosses = Orientation.index(a0, a1, b0) * Orientation.index(a0, a1, b1) < 0
                    && Orientation.index(b0, b1, a0) * Orientation.index(b0, b1, a1) < 0;
            count += crosses ? 1 : 0;
        }

        @Override
        public boolean isDone() {
            return count > limit;
        }
    }
}
