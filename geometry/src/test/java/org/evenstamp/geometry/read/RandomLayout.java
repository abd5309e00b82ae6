package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.MultiPolygon;
import org.locationtech.jts.geom.Point;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.io.ByteOrderValues;
import org.locationtech.jts.io.WKBWriter;

/** Random features for tests, and the same features in every format. All polygons are sound. */
record RandomLayout(List<Geometry> geometries) {
    private static final GeometryFactory FACTORY = new GeometryFactory();

    static RandomLayout of(int seed, int features) {
        SplittableRandom random = new SplittableRandom(seed);
        List<Geometry> geometries = new ArrayList<>();
        for (int i = 0; i < features; i++) {
            geometries.add(
                    switch (random.nextInt(8)) {
                        case 0 -> multiPolygon(random);
                        case 1 ->
                            FACTORY.createGeometryCollection(
                                    new Geometry[] {polygon(random), point(random), multiPolygon(random)});
                        case 2 -> point(random);
                        default -> polygon(random);
                    });
        }
        return new RandomLayout(geometries);
    }

    private static Point point(SplittableRandom random) {
        return FACTORY.createPoint(new Coordinate(random.nextDouble(-9, 9), random.nextDouble(-9, 9)));
    }

    private static MultiPolygon multiPolygon(SplittableRandom random) {
        Polygon[] parts = new Polygon[random.nextInt(1, 4)];
        for (int i = 0; i < parts.length; i++) {
            parts[i] = polygon(random);
        }
        return FACTORY.createMultiPolygon(parts);
    }

    private static Polygon polygon(SplittableRandom random) {
        double x = random.nextDouble(-5000, 5000);
        double y = random.nextDouble(-5000, 5000);
        LinearRing outline = ring(random, x, y, 5, random.nextInt(10) == 0 ? 200 : 12);
        if (random.nextInt(3) > 0) {
            return FACTORY.createPolygon(outline);
        }
        // The outline stays beyond a quarter of its radius as a polygon of at least five corners, the hole within a
        // fifth.
        return FACTORY.createPolygon(outline, new LinearRing[] {ring(random, x, y, 0.5, 8)});
    }

    private static LinearRing ring(SplittableRandom random, double x, double y, double radius, int most) {
        int n = random.nextInt(5, most + 1);
        Coordinate[] points = new Coordinate[n + 1];
        boolean clockwise = random.nextBoolean();
        boolean rounded = random.nextBoolean();
        for (int i = 0; i < n; i++) {
            double angle = 2 * Math.PI * i / n * (clockwise ? -1 : 1);
            double r = radius * random.nextDouble(0.6, 1);
            double px = x + r * Math.cos(angle);
            double py = y + r * Math.sin(angle);
            points[i] = rounded
                    ? new Coordinate(Math.rint(px * 1e4) / 1e4, Math.rint(py * 1e4) / 1e4)
                    : new Coordinate(px, py);
        }
        points[n] = points[0].copy();
        return FACTORY.createLinearRing(points);
    }

    String text(LayoutFormat format) {
        StringBuilder text = new StringBuilder();
        switch (format) {
            case WKT_LINES -> geometries.forEach(g -> text.append(g.toText()).append('\n'));
            case WKB_HEX_LINES -> {
                for (int i = 0; i < geometries.size(); i++) {
                    int order = i % 2 == 0 ? ByteOrderValues.LITTLE_ENDIAN : ByteOrderValues.BIG_ENDIAN;
                    text.append(WKBWriter.toHex(new WKBWriter(2, order).write(geometries.get(i))))
                            .append('\n');
                }
            }
            case CSV_WKT -> {
                text.append("id,wkt,depth\n");
                for (int i = 0; i < geometries.size(); i++) {
                    text.append("\"feature\n\"\"").append(i).append("\"\"\",\"");
                    text.append(geometries.get(i).toText())
                            .append("\",\"")
                            .append(1 + i % 3)
                            .append(" nm\"\n");
                }
            }
            case GEOJSON_LINES -> {
                for (int i = 0; i < geometries.size(); i++) {
                    text.append(feature(i)).append('\n');
                }
            }
            case GEOJSON -> {
                text.append("{\"type\":\"FeatureCollection\",\n\"units\":\"m\",\"features\":[\n");
                for (int i = 0; i < geometries.size(); i++) {
                    text.append(i == 0 ? "" : i % 2 == 0 ? " ,\n" : ",").append(feature(i));
                }
                text.append("\n],\"made\":[{\"by\":\"a test\"}]}\n");
            }
        }
        return text.toString();
    }

    private String feature(int i) {
        String geometry = "\"geometry\":" + json(geometries.get(i));
        String properties = "\"properties\":{\"name\":\"}{]\\\"[\\\\\",\"depth\":\"" + (1 + i % 3) + " nm\"}";
        return i % 3 == 0
                ? "{\"type\":\"Feature\"," + properties + "," + geometry + "}"
                : "{" + geometry + "," + properties + ",\"type\":\"Feature\"}";
    }

    private static String json(Geometry geometry) {
        if (geometry instanceof Polygon polygon) {
            return "{\"type\":\"Polygon\",\"coordinates\":" + rings(polygon) + "}";
        }
        if (geometry instanceof Point point) {
            return "{\"type\":\"Point\",\"coordinates\":[" + point.getX() + "," + point.getY() + "]}";
        }
        List<String> parts = new ArrayList<>();
        boolean multi = geometry instanceof MultiPolygon;
        for (int i = 0; i < geometry.getNumGeometries(); i++) {
            Geometry part = geometry.getGeometryN(i);
            parts.add(multi ? rings((Polygon) part) : json(part));
        }
        String list = "[" + String.join(", ", parts) + "]";
        return multi
                ? "{\"coordinates\":" + list + ",\"type\":\"MultiPolygon\"}"
                : "{\"type\":\"GeometryCollection\",\"geometries\":" + list + "}";
    }

    private static String rings(Polygon polygon) {
        List<String> rings = new ArrayList<>();
        rings.add(ring(polygon.getExteriorRing()));
        for (int i = 0; i < polygon.getNumInteriorRing(); i++) {
            rings.add(ring(polygon.getInteriorRingN(i)));
        }
        return "[" + String.join(",", rings) + "]";
    }

    private static String ring(LinearRing ring) {
        List<String> points = new ArrayList<>();
        for (Coordinate c : ring.getCoordinates()) {
            points.add(String.format(Locale.ROOT, "[%s,%s]", c.x, c.y));
        }
        return "[" + String.join(",", points) + "]";
    }

    /** The polygons' rings in file order, without closing points. */
    List<List<List<Double>>> polygons() {
        List<List<List<Double>>> polygons = new ArrayList<>();
        for (Geometry geometry : geometries) {
            geometry.apply((org.locationtech.jts.geom.GeometryFilter) part -> {
                if (part instanceof Polygon polygon) {
                    List<List<Double>> rings = new ArrayList<>();
                    rings.add(numbers(polygon.getExteriorRing()));
                    for (int i = 0; i < polygon.getNumInteriorRing(); i++) {
                        rings.add(numbers(polygon.getInteriorRingN(i)));
                    }
                    polygons.add(rings);
                }
            });
        }
        return polygons;
    }

    private static List<Double> numbers(LinearRing ring) {
        List<Double> numbers = new ArrayList<>();
        Coordinate[] points = ring.getCoordinates();
        for (int i = 0; i + 1 < points.length; i++) {
            numbers.add(points[i].x);
            numbers.add(points[i].y);
        }
        return numbers;
    }
}
