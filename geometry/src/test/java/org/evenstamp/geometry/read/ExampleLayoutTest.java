package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Published examples and everything a layout file may contain, one by one. */
class ExampleLayoutTest {

    private static final String SQUARE = "POLYGON ((0 0, 1 0, 1 1, 0 1, 0 0))";

    @TempDir
    private Path directory;

    private Reading read(String text) {
        return Reading.of(directory, text, Reading.METRES);
    }

    /** RFC 7946, appendix A.3, the polygon with a hole: 1 less 0.6 x 0.6. Holes turn clockwise there, counterclockwise in the 2008 text. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "[[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]",
                "[[100.2, 0.2], [100.8, 0.2], [100.8, 0.8], [100.2, 0.8], [100.2, 0.2]]"
            })
    void reads_the_rfc_7946_polygon_with_hole_whichever_way_it_turns(String hole) {
        Reading reading = read(
                "{\n  \"type\": \"Polygon\",\n  \"coordinates\": [\n    [ [100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0] ],\n    "
                        + hole + "\n  ]\n}\n");
        assertThat(reading.polygons()).hasSize(1);
        assertThat(reading.polygons().get(0).rings()).hasSize(2);
        assertThat(reading.area()).isCloseTo(0.64, within(1e-12));
        assertThat(reading.report().format()).isEqualTo(LayoutFormat.GEOJSON);
    }

    /** The customary OGC well-known text examples; areas by the shoelace formula by hand. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POLYGON((30 10,40 40,20 40,10 20,30 10))|550|1",
                "POLYGON((35 10,45 45,15 40,10 20,35 10),(20 30,35 35,30 20,20 30))|675|1",
                "MULTIPOLYGON(((40 40,20 45,45 30,40 40)),((20 35,10 30,10 10,30 5,45 20,20 35),(30 20,20 15,20 25,30 20)))|712.5|2"
            })
    void reads_the_ogc_examples(String wkt, double area, int polygons) {
        Reading reading = read(wkt);
        assertThat(reading.area()).isCloseTo(area, within(1e-9));
        assertThat(reading.polygons()).hasSize(polygons);
        assertThat(reading.report().format()).isEqualTo(LayoutFormat.WKT_LINES);
    }

    @Test
    void wkt_may_have_comments_blank_lines_carriage_returns_and_a_mark() {
        Reading reading = read(
                "\uFEFF# a comment\r\n\r\n  " + SQUARE + "  \r\n# POLYGON\r\n\tpolygon((2 0,3 0,3 1,2 0))\r\n\r\n");
        assertThat(reading.polygons()).extracting(Reading.Polygon::line).containsExactly(3L, 5L);
        assertThat(reading.report().features().accepted()).isEqualTo(2);
        assertThat(reading.report().lines()).isEqualTo(6);
    }

    @Test
    void wkt_may_have_an_srid_and_more_dimensions() {
        Reading reading = read(
                "SRID=4326;POLYGON Z ((0 0 9, 1 0 9, 1 1 9, 0 0 9))\nPOLYGONZM((0 0 1 2,1 0 1 2,1 1 1 2,0 0 1 2))\nPOLYGON M((0 0 1,1 0 1,1 1 1,0 0 1))\n");
        assertThat(reading.polygons()).hasSize(3);
        assertThat(reading.polygons())
                .allSatisfy(p -> assertThat(p.rings()).containsExactly(List.of(0., 0., 1., 0., 1., 1.)));
        assertThat(reading.report().srids()).isEqualTo(1);
    }

    @Test
    void collections_give_their_polygons_and_count_the_rest() {
        Reading reading = read(
                "GEOMETRYCOLLECTION (POINT (1 2), " + SQUARE
                        + ", LINESTRING (0 0, 1 1), GEOMETRYCOLLECTION (MULTIPOLYGON (((5 5, 6 5, 6 6, 5 5)))))\nPOINT (7 7)\n");
        assertThat(reading.polygons()).hasSize(2);
        assertThat(reading.report().ignored()).isEqualTo(Map.of("point", 2L, "linestring", 1L));
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(1, 0, 0, 1));
    }

    @Test
    void vertices_that_repeat_the_one_before_are_dropped() {
        Reading reading = read("POLYGON ((0 0, 0 0, 1 0, 1 0, 1 0, 1 1, 0 0, 0 0))");
        assertThat(reading.polygons().get(0).rings()).containsExactly(List.of(0., 0., 1., 0., 1., 1.));
        assertThat(reading.report().vertices()).isEqualTo(3);
    }

    @Test
    void geojson_members_may_come_in_any_order() {
        String coordinates = "\"coordinates\": [[[0,0],[1,0],[1,1],[0,0]]]";
        String[] features = {
            "{\"type\":\"Feature\",\"properties\":{\"depth\":2},\"geometry\":{\"type\":\"Polygon\"," + coordinates
                    + "}}",
            "{\"geometry\":{" + coordinates
                    + ",\"type\":\"Polygon\"},\"properties\":{\"depth\":2},\"type\":\"Feature\"}",
            "{\"id\":7,\"type\":\"Feature\",\"geometry\":{\"bbox\":[0,0,1,1]," + coordinates
                    + " , \"type\":\"Polygon\"} , \"properties\":{\"name\":\"{\\\"}\", \"depth\":2}}",
            "{\"properties\":{\"depth\":2},\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":[[[[0,0],[1,0],[1,1],[0,0]]]]},\"type\":\"Feature\"}",
            "{\"properties\":{\"depth\":2},\"geometry\":{\"geometries\":[{\"type\":\"Polygon\"," + coordinates
                    + "}],\"type\":\"GeometryCollection\"},\"type\":\"Feature\"}"
        };
        String list = String.join(",\n", features);
        for (String text : new String[] {
            "{\"type\":\"FeatureCollection\",\"features\":[" + list + "]}",
            "{\"name\":\"[{\\\"\",\"features\" : [ " + list
                    + " ] , \"other\":{\"a\":[1,2]},\"type\":\"FeatureCollection\"}\n\n",
            String.join("\r\n", features),
            "\u001e" + String.join("\n\u001e", features) + "\n"
        }) {
            Reading reading = read(text);
            assertThat(reading.polygons()).hasSize(5).allSatisfy(p -> {
                assertThat(p.rings()).containsExactly(List.of(0., 0., 1., 0., 1., 1.));
                assertThat(p.traits()).isEqualTo(new Traits(2.0, null, null, null));
            });
        }
    }

    @Test
    void geojson_names_and_text_may_be_escaped() {
        Reading reading = read(
                "{\"type\":\"Fe\\u0061ture\",\"g\\u0065ometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]},"
                        + "\"properties\":{\"name\":\"\\\"\\\\\\/\\b\\f\\n\\r\\t\\uD83D\\uDE00{\",\"d\\u0065pth\":\"2\\u0020m\",\"role\":\"cavit\\u0079\"}}");
        assertThat(reading.polygons())
                .extracting(Reading.Polygon::traits)
                .containsExactly(new Traits(2.0, Role.CAVITY, null, null));
    }

    @Test
    void geojson_may_be_a_bare_feature_geometry_or_collection_of_geometries() {
        String polygon = "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}";
        for (String text : new String[] {
            polygon,
            "{\"type\":\"Feature\",\"geometry\":" + polygon + ",\"properties\":null}",
            "{\"type\":\"GeometryCollection\",\"geometries\":[" + polygon + "]}",
            "{\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]],\"type\":\"Polygon\"}"
        }) {
            assertThat(read(text).area()).as(text).isEqualTo(0.5);
        }
    }

    @Test
    void geojson_features_without_area_are_counted() {
        Reading reading = read("{\"type\":\"FeatureCollection\",\"features\":["
                + "{\"type\":\"Feature\",\"properties\":null,\"geometry\":null},"
                + "{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"Point\",\"coordinates\":[1,2]}}]}");
        assertThat(reading.polygons()).isEmpty();
        assertThat(reading.report().features()).isEqualTo(new ReadReport.Features(0, 0, 0, 2));
        assertThat(reading.report().ignored()).isEqualTo(Map.of("no geometry", 1L, "point or line", 1L));
    }

    @Test
    void an_empty_feature_collection_is_a_layout_without_features() {
        assertThat(read("{\"type\":\"FeatureCollection\",\"features\":[]}")
                        .report()
                        .features()
                        .total())
                .isZero();
    }

    @Test
    void the_unit_comes_from_the_file_or_the_job() {
        ReadOptions none = new ReadOptions(null, null, ReadOptions.Policy.SKIP);
        String feature = "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[2,0],[2,2],[0,0]]]}";
        for (String text : new String[] {
            "{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[" + feature + "]}",
            "{\"type\":\"FeatureCollection\",\"features\":[" + feature + "],\"units\":\"um\"}"
        }) {
            Reading reading = Reading.of(directory, text, none);
            assertThat(reading.polygons().get(0).rings().get(0)).contains(2 * 1e-6);
            assertThat(reading.report().metresPerUnit()).isEqualTo(1e-6);
        }
        Reading given = Reading.of(directory, SQUARE, new ReadOptions(null, 1e-9, ReadOptions.Policy.SKIP));
        assertThat(given.polygons().get(0).rings().get(0)).contains(1e-9);
    }

    @Test
    void properties_become_traits_in_metres_and_radians() {
        String geometry = ",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[2,0],[2,2],[0,0]]]}}";
        String repeat =
                "{\"type\":\"Feature\",\"properties\":{\"depth\":\"150 nm\",\"role\":\"protrusion\",\"colour\":[1,{}],"
                        + "\"repeat\":{\"columns\":3,\"rows\":2,\"dx\":10,\"dy\":\"20 um\"}}" + geometry;
        String texture =
                "{\"type\":\"Feature\",\"properties\":{\"depth\":0.25,\"texture\":{\"kind\":\"pillars\",\"pitch\":\"500 nm\","
                        + "\"width\":0.2,\"angle\":30,\"lattice\":\"hexagonal\"}}" + geometry;
        String lines =
                "{\"type\":\"Feature\",\"properties\":{\"role\":null,\"texture\":{\"kind\":\"lines\",\"pitch\":1,"
                        + "\"width\":0.5,\"angle\":\"90 deg\"}}" + geometry;
        Reading reading = Reading.of(
                directory,
                String.join("\n", repeat, texture, lines, repeat),
                new ReadOptions(null, 1e-6, ReadOptions.Policy.SKIP));
        assertThat(reading.polygons())
                .extracting(Reading.Polygon::traits)
                .containsExactly(
                        new Traits(150 * 1e-9, Role.PROTRUSION, new Repeat(3, 2, 10 * 1e-6, 20 * 1e-6), null),
                        new Traits(
                                0.25 * 1e-6,
                                null,
                                null,
                                new Texture(
                                        Texture.Kind.PILLARS,
                                        500 * 1e-9,
                                        0.2 * 1e-6,
                                        Math.toRadians(30),
                                        Texture.Lattice.HEXAGONAL)),
                        new Traits(
                                null,
                                null,
                                null,
                                new Texture(
                                        Texture.Kind.LINES,
                                        1e-6,
                                        0.5 * 1e-6,
                                        Math.toRadians(90),
                                        Texture.Lattice.SQUARE)),
                        new Traits(150 * 1e-9, Role.PROTRUSION, new Repeat(3, 2, 10 * 1e-6, 20 * 1e-6), null));
        assertThat(reading.polygons().get(0).traits())
                .isSameAs(reading.polygons().get(3).traits());
    }

    @Test
    void tables_honour_depth_and_role() {
        ReadOptions micrometres = new ReadOptions(null, 1e-6, ReadOptions.Policy.SKIP);
        for (String text : new String[] {
            "id,wkt,depth,role\n1,\"" + SQUARE + "\",150 nm,cavity\n2,\" " + SQUARE + " \",,\n",
            "ID;Geometry;Role;Depth\r\n1;" + SQUARE + ";cavity;0.15\r\n\r\n2;\"" + SQUARE + "\";;\r\n",
            "id\tshape\tdepth\trole\n\"a \"\"b\"\"\nc\"\t" + SQUARE + "\t\"150 nm\"\tcavity\n2\t" + SQUARE + "\t\t"
        }) {
            Reading reading = Reading.of(directory, text, micrometres);
            assertThat(reading.report().format()).isEqualTo(LayoutFormat.CSV_WKT);
            assertThat(reading.polygons()).hasSize(2);
            assertThat(reading.polygons().get(0).traits().depthMetres()).isEqualTo(150e-9, within(1e-20));
            assertThat(reading.polygons().get(0).traits().role()).isEqualTo(Role.CAVITY);
            assertThat(reading.polygons().get(1).traits()).isSameAs(Traits.NONE);
        }
    }

    @Test
    void a_table_may_have_one_column_or_no_header() {
        assertThat(read("wkt\n\"" + SQUARE + "\"\n").area()).isEqualTo(1);
        assertThat(read("wkt\n" + SQUARE + "\n").area()).isEqualTo(1);
        assertThat(read("\"" + SQUARE + "\",150 nm\n\"" + SQUARE + "\",2\n").area())
                .isEqualTo(2);
    }

    /** The OGC point example for well-known binary, and a square by hand: one ring of five points, both byte orders. */
    @Test
    void reads_binary_in_hexadecimal_digits() {
        String big = "0000000003" + "00000001" + "00000004" + "0000000000000000" + "0000000000000000"
                + "3FF0000000000000" + "0000000000000000" + "3FF0000000000000" + "3FF0000000000000" + "0000000000000000"
                + "0000000000000000";
        String little = "0103000020" + "E6100000" + "01000000" + "04000000" + "0000000000000000" + "0000000000000000"
                + "000000000000f03f" + "0000000000000000" + "000000000000f03f" + "000000000000f03f" + "0000000000000000"
                + "0000000000000000";
        String point = "0101000000000000000000F03F000000000000F03F";
        Reading reading = read(big + "\n" + little + "\r\n\\x" + point + "\n");
        assertThat(reading.report().format()).isEqualTo(LayoutFormat.WKB_HEX_LINES);
        assertThat(reading.polygons()).hasSize(2);
        assertThat(reading.area()).isEqualTo(1);
        assertThat(reading.report().srids()).isEqualTo(1);
        assertThat(reading.report().ignored()).isEqualTo(Map.of("point", 1L));
    }
}
