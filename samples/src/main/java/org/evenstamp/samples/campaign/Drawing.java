package org.evenstamp.samples.campaign;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import java.util.zip.GZIPOutputStream;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.io.ByteOrderValues;
import org.locationtech.jts.io.WKBWriter;

/** Draws small layouts at random in every format and compression. */
final class Drawing {
    static final List<String> WORDS = List.of(
            "POLYGON ((0 0, 9 0, 9 9, 0 0))",
            "MULTIPOLYGON",
            "EMPTY",
            "GEOMETRYCOLLECTION(",
            "SRID=4326;",
            "(",
            ")",
            "((",
            "))",
            ",",
            ";",
            "#",
            "\n",
            "\r\n",
            "\t",
            "\"",
            "\"\"",
            "{",
            "}",
            "[",
            "]",
            "[[",
            "]]",
            ":",
            "null",
            "true",
            "\"type\":\"Feature\"",
            "\"type\":\"Polygon\"",
            "\"geometry\":null",
            "\"coordinates\":[]",
            "\"features\":[",
            "\"units\":\"nm\"",
            "\"properties\":{\"depth\":1}",
            "\"repeat\":{\"columns\":3,\"rows\":2,\"dx\":7,\"dy\":9}",
            "\"repeat\":{\"columns\":1000000000,\"rows\":1000000000,\"dx\":1e-9,\"dy\":1e-9}",
            "\"repeat\":{\"columns\":1000,\"rows\":1000,\"dx\":0.001,\"dy\":0.001}",
            "\"texture\":{\"kind\":\"lines\",\"pitch\":2,\"width\":1}",
            "\"texture\":{\"kind\":\"holes\",\"pitch\":\"1 um\"," + "\"width\":\"0.5 um\",\"lattice\":\"hexagonal\"}",
            "\"role\":\"keepout\"",
            "\"role\":\"protrusion\"",
            "\"role\":\"dummy\"",
            "\\u0000",
            "\\ud800",
            "\u001e",
            "\ufeff",
            "0103000000",
            "FFFFFFFF",
            "wkt",
            "geometry,depth,role",
            "\u0000",
            "\u001b[2J",
            "é",
            "1e5 m",
            "-");

    private static final GeometryFactory FACTORY = new GeometryFactory();

    private final SplittableRandom random;
    private final List<Polygon> polygons = new ArrayList<>();

    private Drawing(SplittableRandom random) {
        this.random = random;
    }

    /** Returns the text of a layout. */
    static byte[] text(SplittableRandom random) {
        Drawing drawing = new Drawing(random);
        int count = random.nextInt(1, 12);
        for (int i = 0; i < count; i++) {
            drawing.polygons.add(drawing.polygon());
        }
        return drawing.written(random.nextInt(5)).getBytes(StandardCharsets.UTF_8);
    }

    /** A rectangle, a star or a frame somewhere in 100 by 100. */
    private Polygon polygon() {
        double x = Math.rint(random.nextDouble(90) * 8) / 8;
        double y = Math.rint(random.nextDouble(90) * 8) / 8;
        double side = Math.rint(random.nextDouble(1, 30) * 8) / 8;
        return switch (random.nextInt(3)) {
            case 0 -> FACTORY.createPolygon(square(x, y, side));
            case 1 -> star(x, y, side);
            default ->
                FACTORY.createPolygon(
                        FACTORY.createLinearRing(square(x, y, side)), new org.locationtech.jts.geom.LinearRing[] {
                            FACTORY.createLinearRing(square(x + side / 4, y + side / 4, side / 2))
                        });
        };
    }

    private static Coordinate[] square(double x, double y, double side) {
        return new Coordinate[] {
            new Coordinate(x, y),
            new Coordinate(x + side, y),
            new Coordinate(x + side, y + side),
            new Coordinate(x, y + side),
            new Coordinate(x, y)
        };
    }

    private Polygon star(double x, double y, double radius) {
        int corners = random.nextInt(3, 20);
        Coordinate[] ring = new Coordinate[corners + 1];
        for (int i = 0; i < corners; i++) {
            double angle = 2 * Math.PI * (i + random.nextDouble(0.8)) / corners;
            double r = radius * random.nextDouble(0.3, 1);
            ring[i] = new Coordinate(x + r * Math.cos(angle), y + r * Math.sin(angle));
        }
        ring[corners] = ring[0];
        return FACTORY.createPolygon(ring);
    }

    private String written(int format) {
        return switch (format) {
            case 0 -> lines(Polygon::toText);
            case 1 -> {
                int order = random.nextInt(2) == 0 ? ByteOrderValues.BIG_ENDIAN : ByteOrderValues.LITTLE_ENDIAN;
                yield lines(polygon -> WKBWriter.toHex(new WKBWriter(2, order).write(polygon)));
            }
            case 2 -> "id,depth,wkt\n" + lines(polygon -> "1,,\"" + polygon.toText() + "\"");
            case 3 -> lines(this::feature);
            default ->
                "{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[\n"
                        + polygons.stream().map(this::feature).collect(Collectors.joining(",\n")) + "\n]}\n";
        };
    }

    private String lines(java.util.function.Function<Polygon, String> one) {
        return polygons.stream().map(one).collect(Collectors.joining("\n", "", "\n"));
    }

    private String feature(Polygon polygon) {
        StringBuilder rings = new StringBuilder("[");
        for (int ring = 0; ring <= polygon.getNumInteriorRing(); ring++) {
            Coordinate[] points =
                    (ring == 0 ? polygon.getExteriorRing() : polygon.getInteriorRingN(ring - 1)).getCoordinates();
            rings.append(ring == 0 ? "[" : ",[");
            for (int i = 0; i < points.length; i++) {
                rings.append(String.format(Locale.ROOT, "%s[%s,%s]", i == 0 ? "" : ",", points[i].x, points[i].y));
            }
            rings.append("]");
        }
        String properties = switch (random.nextInt(8)) {
            case 0 -> "{\"depth\":\"200 nm\",\"role\":\"cavity\"}";
            case 1 -> "{\"repeat\":{\"columns\":3,\"rows\":2,\"dx\":31,\"dy\":35}}";
            case 2 -> "{\"texture\":{\"kind\":\"lines\",\"pitch\":2,\"width\":1,\"angle\":30}}";
            default -> "{}";
        };
        return "{\"type\":\"Feature\",\"properties\":" + properties
                + ",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":" + rings + "]}}";
    }

    /** Packs a text one of five ways, or not at all. */
    static byte[] packed(SplittableRandom random, byte[] text) throws IOException {
        return switch (random.nextInt(8)) {
            case 0 -> gzip(text);
            case 1 -> zstd(text);
            case 2 -> joined(gzip(half(text, true)), gzip(half(text, false)));
            case 3 -> joined(zstd(half(text, true)), zstd(half(text, false)));
            default -> text;
        };
    }

    private static byte[] half(byte[] text, boolean first) {
        int middle = text.length / 2;
        return first ? java.util.Arrays.copyOf(text, middle) : java.util.Arrays.copyOfRange(text, middle, text.length);
    }

    private static byte[] gzip(byte[] text) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (OutputStream out = new GZIPOutputStream(bytes)) {
            out.write(text);
        }
        return bytes.toByteArray();
    }

    private static byte[] zstd(byte[] text) {
        return com.github.luben.zstd.Zstd.compress(text);
    }

    private static byte[] joined(byte[] a, byte[] b) {
        byte[] all = java.util.Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, all, a.length, b.length);
        return all;
    }
}
