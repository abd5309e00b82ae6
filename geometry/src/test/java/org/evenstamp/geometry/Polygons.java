package org.evenstamp.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Traits;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;

/** Draws polygons for tests, so that a test reads like a sketch. */
public final class Polygons {
    private static final GeometryFactory FACTORY = new GeometryFactory();

    private Polygons() {}

    /** A polygon from rings of x, y, x, y, ... */
    public static PackedPolygon of(double[]... rings) {
        PackedPolygon polygon = new PackedPolygon();
        int vertices = 0;
        for (double[] ring : rings) {
            polygon.ensureVertices(vertices + ring.length / 2);
            System.arraycopy(ring, 0, polygon.xy, 2 * vertices, ring.length);
            vertices += ring.length / 2;
            polygon.endRing(vertices);
        }
        return polygon;
    }

    /** The same with traits. */
    public static PackedPolygon with(PackedPolygon polygon, Traits traits) {
        polygon.traits = traits;
        return polygon;
    }

    public static double[] rectangle(double x0, double y0, double x1, double y1) {
        return new double[] {x0, y0, x1, y0, x1, y1, x0, y1};
    }

    /** A regular polygon with the area of the disc. */
    public static double[] disc(double x, double y, double radius, int vertices) {
        double r = radius * Math.sqrt(2 * Math.PI / (vertices * Math.sin(2 * Math.PI / vertices)));
        double[] ring = new double[2 * vertices];
        for (int i = 0; i < vertices; i++) {
            ring[2 * i] = x + r * Math.cos(2 * Math.PI * (i + 0.5) / vertices);
            ring[2 * i + 1] = y + r * Math.sin(2 * Math.PI * (i + 0.5) / vertices);
        }
        return ring;
    }

    /** A star-shaped ring around a centre. */
    public static double[] star(SplittableRandom random, double x, double y, double radius, int vertices) {
        double[] ring = new double[2 * vertices];
        for (int i = 0; i < vertices; i++) {
            double angle = 2 * Math.PI * (i + random.nextDouble(0.1, 0.9)) / vertices;
            double r = radius * random.nextDouble(0.4, 1);
            ring[2 * i] = x + r * Math.cos(angle);
            ring[2 * i + 1] = y + r * Math.sin(angle);
        }
        return ring;
    }

    /** A ring turned the other way. */
    public static double[] reversed(double[] ring) {
        double[] turned = new double[ring.length];
        for (int i = 0; i < ring.length / 2; i++) {
            turned[2 * i] = ring[ring.length - 2 - 2 * i];
            turned[2 * i + 1] = ring[ring.length - 1 - 2 * i];
        }
        return turned;
    }

    /** Every vertex (x, y) becomes (a x + b y + c, d x + e y + f). */
    public static PackedPolygon mapped(
            PackedPolygon polygon, double a, double b, double c, double d, double e, double f) {
        PackedPolygon result = new PackedPolygon();
        result.ensureVertices(polygon.vertices());
        for (int i = 0; i < polygon.vertices(); i++) {
            double x = polygon.xy[2 * i];
            double y = polygon.xy[2 * i + 1];
            result.xy[2 * i] = a * x + b * y + c;
            result.xy[2 * i + 1] = d * x + e * y + f;
        }
        for (int r = 0; r < polygon.rings; r++) {
            result.endRing(polygon.ringEnd[r]);
        }
        result.traits = polygon.traits;
        return result;
    }

    /** Non-overlapping stars, some with a hole, on a jittered lattice over [0, side] squared. */
    public static List<PackedPolygon> stars(long seed, int perSide, double side) {
        SplittableRandom random = new SplittableRandom(seed);
        List<PackedPolygon> polygons = new ArrayList<>();
        double step = side / perSide;
        for (int row = 0; row < perSide; row++) {
            for (int column = 0; column < perSide; column++) {
                double radius = step * random.nextDouble(0.1, 0.45);
                double x = (column + 0.5) * step + (0.49 * step - radius) * random.nextDouble(-1, 1);
                double y = (row + 0.5) * step + (0.49 * step - radius) * random.nextDouble(-1, 1);
                double[] outline = star(random, x, y, radius, random.nextInt(3, 24));
                if (random.nextBoolean()) {
                    outline = reversed(outline);
                }
                polygons.add(
                        random.nextInt(4) == 0 && outline.length >= 16
                                ? of(outline, disc(x, y, 0.15 * radius, 7))
                                : of(outline));
            }
        }
        return polygons;
    }

    /** A source of these polygons, numbered as a file would number them. */
    public static PolygonStore store(List<PackedPolygon> polygons) {
        PolygonStore store = new PolygonStore();
        for (int i = 0; i < polygons.size(); i++) {
            PackedPolygon polygon = polygons.get(i);
            polygon.chunk = i / 16;
            polygon.ordinal = i % 16;
            polygon.line = i + 1L;
            store.add(polygon);
        }
        return store;
    }

    public static Polygon jts(PackedPolygon polygon) {
        LinearRing[] rings = new LinearRing[polygon.rings];
        for (int r = 0; r < rings.length; r++) {
            int start = polygon.ringStart(r);
            int count = polygon.ringEnd[r] - start;
            Coordinate[] points = new Coordinate[count + 1];
            for (int i = 0; i <= count; i++) {
                int at = start + i % count;
                points[i] = new Coordinate(polygon.xy[2 * at], polygon.xy[2 * at + 1]);
            }
            rings[r] = FACTORY.createLinearRing(points);
        }
        return FACTORY.createPolygon(rings[0], java.util.Arrays.copyOfRange(rings, 1, rings.length));
    }
}
