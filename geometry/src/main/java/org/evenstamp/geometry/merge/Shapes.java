package org.evenstamp.geometry.merge;

import org.evenstamp.geometry.layout.PackedPolygon;
import org.locationtech.jts.geom.CoordinateSequence;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.impl.PackedCoordinateSequence;

/** Turns packed polygons into JTS polygons and back. */
final class Shapes {
    static final GeometryFactory FACTORY = new GeometryFactory();

    private Shapes() {}

    static Polygon polygon(PackedPolygon packed) {
        LinearRing[] holes = new LinearRing[packed.rings - 1];
        for (int ring = 1; ring < packed.rings; ring++) {
            holes[ring - 1] = ring(packed, ring);
        }
        return FACTORY.createPolygon(ring(packed, 0), holes);
    }

    private static LinearRing ring(PackedPolygon packed, int ring) {
        int start = packed.ringStart(ring);
        int count = packed.ringEnd[ring] - start;
        double[] closed = new double[2 * count + 2];
        System.arraycopy(packed.xy, 2 * start, closed, 0, 2 * count);
        closed[2 * count] = closed[0];
        closed[2 * count + 1] = closed[1];
        return FACTORY.createLinearRing(new PackedCoordinateSequence.Double(closed, 2, 0));
    }

    static void pack(Polygon polygon, PackedPolygon into) {
        into.clear();
        int vertices = 0;
        for (int ring = 0; ring <= polygon.getNumInteriorRing(); ring++) {
            LinearRing line = ring == 0 ? polygon.getExteriorRing() : polygon.getInteriorRingN(ring - 1);
            CoordinateSequence points = line.getCoordinateSequence();
            int count = points.size() - 1;
            into.ensureVertices(vertices + count);
            for (int i = 0; i < count; i++) {
                into.xy[2 * (vertices + i)] = points.getX(i);
                into.xy[2 * (vertices + i) + 1] = points.getY(i);
            }
            vertices += count;
            into.endRing(vertices);
        }
    }
}
