package org.evenstamp.samples.generate;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Traits;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.prep.PreparedGeometry;
import org.locationtech.jts.geom.prep.PreparedGeometryFactory;
import org.locationtech.jts.index.strtree.STRtree;

/** Layouts as JTS polygons in micrometres on a grid of 0.1 nm, arrays drawn out. */
final class JtsPolygons {
    private static final GeometryFactory FACTORY = new GeometryFactory();

    private JtsPolygons() {}

    record Pair(int first, int second) {}

    /** Returns every polygon drawn, its traits as user data. */
    static List<Polygon> of(Consumer<PolygonSink> layout) {
        List<Polygon> polygons = new ArrayList<>();
        layout.accept(polygon -> {
            Repeat repeat = polygon.traits.repeat();
            for (int row = 0; row < (repeat == null ? 1 : repeat.rows()); row++) {
                for (int column = 0; column < (repeat == null ? 1 : repeat.columns()); column++) {
                    double dx = repeat == null ? 0 : column * repeat.dxMetres();
                    double dy = repeat == null ? 0 : row * repeat.dyMetres();
                    polygons.add(one(polygon, dx, dy));
                }
            }
        });
        return polygons;
    }

    private static Polygon one(PackedPolygon polygon, double dx, double dy) {
        LinearRing[] rings = new LinearRing[polygon.rings];
        for (int ring = 0; ring < rings.length; ring++) {
            int start = polygon.ringStart(ring);
            int count = polygon.ringEnd[ring] - start;
            Coordinate[] coordinates = new Coordinate[count + 1];
            for (int i = 0; i <= count; i++) {
                int vertex = start + i % count;
                coordinates[i] = new Coordinate(
                        Math.rint((polygon.xy[2 * vertex] + dx) * 1e10) / 1e4,
                        Math.rint((polygon.xy[2 * vertex + 1] + dy) * 1e10) / 1e4);
            }
            rings[ring] = FACTORY.createLinearRing(coordinates);
        }
        LinearRing[] holes = new LinearRing[rings.length - 1];
        System.arraycopy(rings, 1, holes, 0, holes.length);
        Polygon result = FACTORY.createPolygon(rings[0], holes);
        Traits traits = polygon.traits;
        result.setUserData(traits);
        return result;
    }

    /** Returns the pairs of polygons that share a point. */
    static List<Pair> touching(List<Polygon> polygons) {
        STRtree tree = new STRtree();
        List<Pair> pairs = new ArrayList<>();
        for (int i = 0; i < polygons.size(); i++) {
            tree.insert(polygons.get(i).getEnvelopeInternal(), i);
        }
        for (int i = 0; i < polygons.size(); i++) {
            // Each pair once, asked of the polygon with more vertices, which is prepared: a comb has hundreds of others
            // within
            // its envelope.
            PreparedGeometry polygon = PreparedGeometryFactory.prepare(polygons.get(i));
            for (Object found : tree.query(polygons.get(i).getEnvelopeInternal())) {
                int other = (Integer) found;
                int vertices = polygons.get(i).getNumPoints();
                int others = polygons.get(other).getNumPoints();
                boolean larger = vertices == others ? i < other : vertices > others;
                if (larger && polygon.intersects(polygons.get(other))) {
                    pairs.add(new Pair(i, other));
                }
            }
        }
        return pairs;
    }
}
