package org.evenstamp.geometry.merge;

import org.evenstamp.geometry.layout.PackedPolygon;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.IntersectionMatrix;
import org.locationtech.jts.geom.Location;
import org.locationtech.jts.operation.relateng.RelateNG;

/** Tells whether two polygons meet in more than single points; cheap looks at their boxes come first. */
final class Meeting {
    private Meeting() {}

    /** Whether two polygons share area or a stretch of edge. */
    static boolean of(PackedPolygon a, PackedPolygon b) {
        Envelope common = box(a).intersection(box(b));
        if (common.isNull() || (common.getWidth() == 0 && common.getHeight() == 0)) {
            return false;
        }
        // Where neither has an edge in the common part of the boxes, it is all inside or all outside of each.
        boolean edgeA = hasEdgeIn(a, common);
        boolean edgeB = hasEdgeIn(b, common);
        if ((!edgeA && !covers(a, common)) || (!edgeB && !covers(b, common))) {
            return false;
        }
        IntersectionMatrix matrix = RelateNG.relate(Shapes.polygon(a), Shapes.polygon(b));
        return matrix.get(Location.INTERIOR, Location.INTERIOR) >= 2
                || matrix.get(Location.BOUNDARY, Location.BOUNDARY) >= 1;
    }

    private static Envelope box(PackedPolygon polygon) {
        double[] ends = new double[4];
        polygon.box(ends);
        return new Envelope(ends[0], ends[2], ends[1], ends[3]);
    }

    private static boolean hasEdgeIn(PackedPolygon polygon, Envelope box) {
        for (int ring = 0; ring < polygon.rings; ring++) {
            int end = polygon.ringEnd[ring];
            int previous = end - 1;
            for (int i = polygon.ringStart(ring); i < end; i++) {
                double x0 = polygon.xy[2 * previous];
                double y0 = polygon.xy[2 * previous + 1];
                double x1 = polygon.xy[2 * i];
                double y1 = polygon.xy[2 * i + 1];
                if (Math.min(x0, x1) <= box.getMaxX()
                        && Math.max(x0, x1) >= box.getMinX()
                        && Math.min(y0, y1) <= box.getMaxY()
                        && Math.max(y0, y1) >= box.getMinY()) {
                    return true;
                }
                previous = i;
            }
        }
        return false;
    }

    /** Whether a polygon without an edge in the box covers it: its middle is inside an odd number of rings. */
    private static boolean covers(PackedPolygon polygon, Envelope box) {
        double x = (box.getMinX() + box.getMaxX()) / 2;
        double y = (box.getMinY() + box.getMaxY()) / 2;
        boolean inside = false;
        for (int ring = 0; ring < polygon.rings; ring++) {
            int end = polygon.ringEnd[ring];
            int previous = end - 1;
            for (int i = polygon.ringStart(ring); i < end; i++) {
                double y0 = polygon.xy[2 * previous + 1];
                double y1 = polygon.xy[2 * i + 1];
                double x0 = polygon.xy[2 * previous];
                double x1 = polygon.xy[2 * i];
                if ((y0 > y) != (y1 > y) && x < x0 + (x1 - x0) * (y - y0) / (y1 - y0)) {
                    inside = !inside;
                }
                previous = i;
            }
        }
        return inside;
    }
}
