package org.evenstamp.geometry.clean;

import java.util.List;
import java.util.function.Consumer;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.util.GeometryFixer;
import org.locationtech.jts.geom.util.PolygonExtracter;

/**
 * Turns a polygon that is not sound into sound ones that cover what it drew: every lobe of a ring that crosses itself is kept,
 * holes that cross the outline are cut off at it, holes apart from the outline become polygons, and what has no area vanishes.
 */
public final class RingRepair {
    /** A polygon that crosses itself more often than this is not mended: a few seconds of work. */
    public static final int MOST_CROSSINGS = 50_000;

    /** Below this number of vertices the edges cannot cross so often. */
    private static final int FEW_VERTICES = 300;

    private static final double LEAST_SEEN = 1e-150;

    private static final GeometryFactory FACTORY = new GeometryFactory();

    private final PackedPolygon mended = new PackedPolygon();

    /** Returns whether a polygon crosses itself too often to be mended. */
    public static boolean isTangled(PackedPolygon polygon) {
        if (polygon.vertices() < FEW_VERTICES) {
            return false;
        }
        Crossings crossings = new Crossings(true);
        crossings.add(polygon);
        return crossings.moreThan(MOST_CROSSINGS);
    }

    /**
     * Hands over what the polygon becomes; nothing when nothing with an area is left.
     *
     * @param polygon finite coordinates in any unit
     * @param into takes each piece; must not keep it. Traits and place are not set
     * @return the number of pieces
     */
    public int repair(PackedPolygon polygon, Consumer<PackedPolygon> into) {
        if (polygon.ringEnd[0] == 0) {
            return 0; // holes without an outline
        }
        Geometry fixed = GeometryFixer.fix(toJts(polygon));
        @SuppressWarnings("unchecked") // JTS hands out the raw list
        List<Polygon> pieces = PolygonExtracter.getPolygons(fixed);
        int given = 0;
        for (Polygon piece : pieces) {
            if (!piece.isEmpty()) {
                fill(piece);
                into.accept(mended);
                given++;
            }
        }
        return given;
    }

    private void fill(Polygon piece) {
        mended.clear();
        addRing(piece.getExteriorRing());
        for (int i = 0; i < piece.getNumInteriorRing(); i++) {
            addRing(piece.getInteriorRingN(i));
        }
    }

    private void addRing(LinearRing ring) {
        Coordinate[] points = ring.getCoordinates();
        int n = mended.vertices();
        for (int i = 0; i + 1 < points.length; i++) {
            mended.ensureVertices(n + 1);
            mended.xy[2 * n] = points[i].x;
            mended.xy[2 * n + 1] = points[i].y;
            n++;
        }
        mended.endRing(n);
    }

    /** Returns the same polygon as JTS has it; rings without a point are left out. */
    static Polygon toJts(PackedPolygon polygon) {
        LinearRing outline = ring(polygon, 0);
        LinearRing[] holes = new LinearRing[polygon.rings - 1];
        for (int hole = 1; hole < polygon.rings; hole++) {
            holes[hole - 1] = ring(polygon, hole);
        }
        return FACTORY.createPolygon(outline, holes);
    }

    private static LinearRing ring(PackedPolygon polygon, int ring) {
        int start = polygon.ringStart(ring);
        int count = polygon.ringEnd[ring] - start;
        if (count == 0) {
            return FACTORY.createLinearRing();
        }
        // JTS wants three points and the first again; a shorter ring repeats its last point.
        Coordinate[] points = new Coordinate[Math.max(count, 3) + 1];
        for (int i = 0; i < points.length - 1; i++) {
            int vertex = start + Math.min(i, count - 1);
            points[i] = new Coordinate(seen(polygon.xy[2 * vertex]), seen(polygon.xy[2 * vertex + 1]));
        }
        points[points.length - 1] = points[0].copy();
        return FACTORY.createLinearRing(points);
    }

    /** Takes for 0 what is so small that products of it are 0, which makes crossings that nobody finds. */
    private static double seen(double coordinate) {
        return Math.abs(coordinate) < LEAST_SEEN ? 0 : coordinate;
    }
}
