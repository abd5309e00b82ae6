package org.evenstamp.geometry.write;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SplittableRandom;
import java.util.zip.GZIPInputStream;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.write.LayoutWriter.Format;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.io.ParseException;
import org.locationtech.jts.io.WKTReader;

class LayoutWriterTest {
    private static final double UM = 1e-6;

    /** Rings of micrometres into a polygon. */
    private static PackedPolygon polygon(Traits traits, double[]... rings) {
        PackedPolygon polygon = new PackedPolygon();
        int vertices = 0;
        for (double[] ring : rings) {
            polygon.ensureVertices(vertices + ring.length / 2);
            for (int i = 0; i < ring.length; i++) {
                polygon.xy[2 * vertices + i] = ring[i] * UM;
            }
            vertices += ring.length / 2;
            polygon.endRing(vertices);
        }
        polygon.traits = traits;
        return polygon;
    }

    private static String written(Format format, PackedPolygon... polygons) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (LayoutWriter writer = new LayoutWriter(bytes, format)) {
            for (PackedPolygon polygon : polygons) {
                writer.accept(polygon);
            }
            assertThat(writer.written()).isEqualTo(polygons.length);
        }
        return bytes.toString(StandardCharsets.UTF_8);
    }

    @Test
    void a_feature_collection_names_its_unit_and_closes_its_rings() throws IOException {
        assertThat(written(
                        Format.GEOJSON,
                        polygon(Traits.NONE, new double[] {0, 0, 10, 0, 10, 5}),
                        polygon(Traits.NONE, new double[] {-1.5, 0, 1, 0, 0, 0.0001})))
                .isEqualTo("""
                        {"type":"FeatureCollection","units":"um","features":[
                        {"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[0,0],[10,0],[10,5],[0,0]]]}},
                        {"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[-1.5,0],[1,0],[0,0.0001],[-1.5,0]]]}}
                        ]}
                        """);
    }

    @Test
    void an_empty_layout_is_still_a_feature_collection() throws IOException {
        assertThat(written(Format.GEOJSON))
                .isEqualTo("{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[\n]}\n");
    }

    @Test
    void rings_follow_the_right_hand_rule_in_geojson() throws IOException {
        // RFC 7946, 3.1.6: exterior rings counterclockwise, interior rings clockwise. Both are given the other way.
        double[] clockwise = {0, 0, 0, 9, 9, 9, 9, 0};
        double[] counterclockwise = {1, 1, 2, 1, 2, 2, 1, 2};
        assertThat(written(Format.NDJSON, polygon(Traits.NONE, clockwise, counterclockwise)))
                .contains("[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[1,1],[1,2],[2,2],[2,1],[1,1]]]");
    }

    @Test
    void traits_are_written_in_the_units_of_the_layout() throws IOException {
        Traits traits = new Traits(
                150e-9,
                Role.CAVITY,
                new Repeat(3, 40000, 2.5 * UM, -0.3 * UM),
                new Texture(Texture.Kind.PILLARS, 300e-9, 0.1 * UM, Math.toRadians(30), Texture.Lattice.HEXAGONAL));
        assertThat(written(Format.GEOJSON, polygon(traits, new double[] {0, 0, 1, 0, 1, 1})))
                .contains(
                        "\"properties\":{\"depth\":0.15,\"role\":\"cavity\","
                                + "\"repeat\":{\"columns\":3,\"rows\":40000,\"dx\":2.5,\"dy\":-0.3},"
                                + "\"texture\":{\"kind\":\"pillars\",\"pitch\":0.3,\"width\":0.1,\"angle\":30,\"lattice\":\"hexagonal\"}}");
    }

    @Test
    void every_line_of_ndjson_is_a_feature() throws IOException {
        PackedPolygon triangle = polygon(Traits.NONE, new double[] {0, 0, 1, 0, 1, 1});
        assertThat(written(Format.NDJSON, triangle, triangle).lines())
                .hasSize(2)
                .allMatch(line -> line.startsWith("{\"type\":\"Feature\",\"properties\":{}") && line.endsWith("]}}"));
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "0.00004, 0",
        "-0.00004, 0",
        "0.00006, 0.0001",
        "-0.00006, -0.0001",
        "0.1, 0.1",
        "1234.5678, 1234.5678",
        "-6000, -6000",
        "0.0101, 0.0101",
        "899999999.9999, 899999999.9999",
        "-10.5, -10.5",
        "9.99996, 10"
    })
    void coordinates_are_rounded_to_a_tenth_of_a_nanometre(double micrometres, String text) throws IOException {
        assertThat(written(Format.WKT, polygon(Traits.NONE, new double[] {micrometres, 0, 1, 0, 1, 1})))
                .startsWith("POLYGON ((" + text + " 0, ");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, 1e300, 1e6})
    void a_coordinate_that_cannot_be_written_is_refused(double metres) throws IOException {
        try (LayoutWriter writer = new LayoutWriter(OutputStream.nullOutputStream(), Format.WKT)) {
            PackedPolygon polygon = polygon(Traits.NONE, new double[] {0, 0, 1, 0, 1, 1});
            polygon.xy[2] = metres;
            assertThatIllegalArgumentException().isThrownBy(() -> writer.accept(polygon));
        }
    }

    @Test
    void wkt_refuses_what_it_cannot_hold() throws IOException {
        try (LayoutWriter writer = new LayoutWriter(OutputStream.nullOutputStream(), Format.WKT)) {
            Traits deep = new Traits(1e-7, null, null, null);
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> writer.accept(polygon(deep, new double[] {0, 0, 1, 0, 1, 1})))
                    .withMessageContaining("properties");
            assertThatIllegalArgumentException().isThrownBy(() -> writer.accept(new PackedPolygon()));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void another_reader_gets_the_same_rings_from_wkt(long seed) throws IOException, ParseException {
        SplittableRandom random = new SplittableRandom(seed);
        PackedPolygon[] polygons = new PackedPolygon[400]; // some hundred kilobytes: the buffer is emptied many times
        for (int p = 0; p < polygons.length; p++) {
            double[][] rings = new double[random.nextInt(1, 4)][];
            for (int r = 0; r < rings.length; r++) {
                rings[r] = random.doubles(2L * random.nextInt(3, 30), -1e4, 1e4).toArray();
            }
            polygons[p] = polygon(Traits.NONE, rings);
        }
        String[] lines = written(Format.WKT, polygons).lines().toArray(String[]::new);
        assertThat(lines).hasSize(polygons.length);
        for (int p = 0; p < lines.length; p++) {
            Polygon read = (Polygon) new WKTReader().read(lines[p]);
            PackedPolygon expected = polygons[p];
            assertThat(read.getNumInteriorRing()).isEqualTo(expected.rings - 1);
            int vertex = 0;
            for (int r = 0; r < expected.rings; r++) {
                Coordinate[] ring = (r == 0 ? read.getExteriorRing() : read.getInteriorRingN(r - 1)).getCoordinates();
                assertThat(ring).hasSize(expected.ringEnd[r] - expected.ringStart(r) + 1);
                for (int i = 0; i < ring.length - 1; i++, vertex++) {
                    assertThat(ring[i].x).isEqualTo(expected.xy[2 * vertex] / UM, within(0.500001e-4));
                    assertThat(ring[i].y).isEqualTo(expected.xy[2 * vertex + 1] / UM, within(0.500001e-4));
                }
            }
        }
    }

    @Test
    void a_name_that_ends_in_gz_is_compressed_and_always_to_the_same_bytes(@TempDir Path folder) throws IOException {
        PackedPolygon triangle = polygon(Traits.NONE, new double[] {0, 0, 1, 0, 1, 1});
        byte[][] files = new byte[2][];
        for (int i = 0; i < files.length; i++) {
            Path file = folder.resolve(i + ".wkt.gz");
            try (LayoutWriter writer = LayoutWriter.create(file)) {
                writer.accept(triangle);
            }
            files[i] = Files.readAllBytes(file);
        }
        assertThat(files[0]).isEqualTo(files[1]);
        try (GZIPInputStream in = new GZIPInputStream(new ByteArrayInputStream(files[0]))) {
            assertThat(in.readAllBytes()).asString().isEqualTo("POLYGON ((0 0, 1 0, 1 1, 0 0))\n");
        }
    }

    @Test
    void an_ending_without_a_format_is_refused_before_a_file_is_made(@TempDir Path folder) {
        Path file = folder.resolve("layout.txt");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LayoutWriter.create(file).close());
        assertThat(file).doesNotExist();
    }

    @Test
    void a_full_disk_is_reported() {
        OutputStream full = new OutputStream() {
            @Override
            public void write(int b) throws IOException {
                throw new IOException("No space left on device");
            }
        };
        PackedPolygon triangle = polygon(Traits.NONE, new double[] {0, 0, 1, 0, 1, 1});
        assertThatThrownBy(() -> {
                    try (LayoutWriter writer = new LayoutWriter(full, Format.WKT)) {
                        for (int i = 0; i < 100_000; i++) {
                            writer.accept(triangle);
                        }
                    }
                })
                .isInstanceOf(UncheckedIOException.class)
                .hasMessageContaining("No space left");
    }
}
