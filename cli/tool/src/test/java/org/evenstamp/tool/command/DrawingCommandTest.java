package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Results as drawings: contours of fields, and the drawn features with their values. */
class DrawingCommandTest {
    private static final String DRAWN = """
            {"type": "FeatureCollection", "name": "trial", "units": "um", "features": [
              {"type": "Feature", "id": "left", "bbox": [10, 10, 90, 90], "properties": {"depth": "300 nm", "layer": {"number": 7, "width": 1.50}},
               "geometry": {"type": "Polygon", "coordinates": [[[10, 10], [90, 10], [90, 90], [10, 90], [10, 10]]]}},
              {"type": "Feature", "id": 12, "properties": null, "my:own": [true, null, "\\u00e9"],
               "geometry": {"type": "MultiPolygon", "coordinates": [[[[210.5, 10.25], [250, 10.25], [250, 30], [210.5, 10.25]]], [[[350, 110], [390, 110], [390, 190], [350, 190], [350, 110]]]]}},
              {"type": "Feature", "properties": {"role": "keepout"}, "geometry": {"type": "Point", "coordinates": [5, 5]}},
              {"type": "Feature", "id": "array", "properties": {"repeat": {"columns": 3, "rows": 1, "dx": 100, "dy": 0}},
               "geometry": {"type": "Polygon", "coordinates": [[[120, 210], [140, 210], [140, 230], [120, 230], [120, 210]]]}}
            ]}
            """;

    private static final String JOB = """
            layout:
              file: drawn.geojson
              outline: {min: ["0 um", "0 um"], max: ["400 um", "300 um"]}
            tiles: {side: "20 um"}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {thickness: "250 nm", viscosity: "3e3 Pa s"}
            process: {pressure: "5 MPa", hold: "60 s"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @BeforeEach
    void layout() throws IOException {
        Files.writeString(directory.resolve("drawn.geojson"), DRAWN);
    }

    private Path job(String text) throws IOException {
        return Files.writeString(directory.resolve("job.yaml"), text);
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper().readTree(directory.resolve(file).toFile());
    }

    /** Smallest and largest value of a column of tiles.csv over some tiles. */
    private double[] range(String field, List<int[]> tiles) throws IOException {
        List<String> rows = Files.readAllLines(directory.resolve("job-results/tiles.csv"));
        int at = List.of(rows.get(0).split(",", -1)).indexOf(field);
        double[] range = {Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY};
        for (String row : rows.subList(1, rows.size())) {
            String[] cells = row.split(",", -1);
            for (int[] tile : tiles) {
                if (cells[0].equals("" + tile[0]) && cells[1].equals("" + tile[1])) {
                    range[0] = Math.min(range[0], Double.parseDouble(cells[at]));
                    range[1] = Math.max(range[1], Double.parseDouble(cells[at]));
                }
            }
        }
        return range;
    }

    private static List<int[]> block(int fromColumn, int toColumn, int fromRow, int toRow) {
        List<int[]> tiles = new ArrayList<>();
        for (int column = fromColumn; column <= toColumn; column++) {
            for (int row = fromRow; row <= toRow; row++) {
                tiles.add(new int[] {column, row});
            }
        }
        return tiles;
    }

    @Test
    void every_drawn_feature_comes_back_with_its_own_members_and_its_range_of_values() throws IOException {
        int code = tool.run("run", job(JOB), "--no-report", "--features-geojson");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        JsonNode written = json("job-results/features.geojson");
        assertThat(written.get("units").asText()).isEqualTo("um");
        assertThat(written.at("/field_units/residual.final").asText()).isEqualTo("nm");
        JsonNode drawn = new ObjectMapper().readTree(DRAWN).get("features");
        assertThat(written.get("features")).hasSameSizeAs(drawn);
        for (int i = 0; i < drawn.size(); i++) {
            ObjectNode feature = (ObjectNode) written.get("features").get(i);
            ObjectNode properties = (ObjectNode) feature.get("properties");
            assertThat(properties.has("residual.final.min")).isTrue();
            List<String> ours = new ArrayList<>();
            properties.fieldNames().forEachRemaining(name -> {
                if (name.matches("(residual|fill|stress|release)\\..*\\.(min|max)")) {
                    ours.add(name);
                }
            });
            properties.remove(ours);
            ObjectNode own = (ObjectNode) drawn.get(i);
            if (own.get("properties").isNull()) {
                own.putObject("properties");
            }
            assertThat(feature).isEqualTo(own);
        }
        written = json("job-results/features.geojson").get("features");
        double[] left = range("residual.final", block(0, 4, 0, 4));
        assertThat(written.at("/0/properties/residual.final.min").asDouble()).isCloseTo(left[0], within(1e-6));
        assertThat(written.at("/0/properties/residual.final.max").asDouble()).isCloseTo(left[1], within(1e-6));
        List<int[]> both = block(17, 19, 5, 9);
        both.addAll(
                List.of(new int[] {10, 0}, new int[] {11, 0}, new int[] {12, 0}, new int[] {11, 1}, new int[] {12, 1}));
        double[] second = range("residual.final", both);
        assertThat(written.at("/1/properties/residual.final.max").asDouble()).isCloseTo(second[1], within(1e-6));
        assertThat(written.at("/1/properties/residual.final.min").asDouble()).isCloseTo(second[0], within(1e-6));
        assertThat(written.at("/2/properties/residual.final.min").isNull()).isTrue();
        List<int[]> copies = block(6, 6, 10, 11);
        copies.addAll(block(11, 11, 10, 11));
        copies.addAll(block(16, 16, 10, 11));
        double[] array = range("fill.time", copies);
        assertThat(written.at("/3/properties/fill.time.max").asDouble()).isCloseTo(array[1], within(1e-6));
    }

    @Test
    void layers_without_properties_come_back_as_they_lie_on_the_stamp() throws IOException {
        Files.writeString(
                directory.resolve("wells.wkt"),
                "# two\nPOLYGON ((10 10, 30 10, 30 30, 10 30, 10 10))\nPOLYGON ((60 10, 80 10, 80 30, 60 30, 60 10))\n");
        String layers =
                "layers:\n    - {file: drawn.geojson}\n    - {file: wells.wkt, unit: um, role: cavity, depth: \"200 nm\","
                        + " offset: [\"300 um\", \"220 um\"]}";
        int code =
                tool.run("run", job(JOB.replace("file: drawn.geojson", layers)), "--no-report", "--features-geojson");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        assertThat(json("job-results/features/layer-1.geojson").get("features")).hasSize(4);
        JsonNode wells = json("job-results/features/layer-2.geojson").get("features");
        assertThat(wells).hasSize(2);
        assertThat(wells.at("/1/properties/line").asInt()).isEqualTo(3);
        assertThat(wells.at("/1/properties/depth").asText()).isEqualTo("200 nm");
        assertThat(wells.at("/1/geometry/coordinates/0/0/0").toString()).isEqualTo("[360,230]");
        double[] there = range("residual.final", block(18, 18, 11, 12));
        assertThat(wells.at("/1/properties/residual.final.max").asDouble()).isCloseTo(there[1], within(1e-6));
    }

    @Test
    void contours_are_bands_between_the_levels_asked_for_or_round_ones() throws IOException {
        int code = tool.run(
                "run",
                job(JOB),
                "--no-report",
                "--contours",
                "cavity.fraction=0.25,0.75",
                "--contours",
                "residual.final");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        JsonNode bands = json("job-results/contours/cavity.fraction.geojson").get("features");
        assertThat(bands).hasSize(3);
        assertThat(bands.at("/0/properties/from").isNull()).isTrue();
        assertThat(bands.at("/1/properties/from").asDouble()).isEqualTo(0.25);
        assertThat(bands.at("/2/properties/from").asDouble()).isEqualTo(0.75);
        // The large square is full from 20 to 80 um; from its outermost full centres at 30 and 70 to those half full at
        // 10 and 90.
        double area = 0;
        for (JsonNode polygon : bands.at("/2/geometry/coordinates")) {
            JsonNode ring = polygon.get(0);
            for (int i = 0; i + 1 < ring.size(); i++) {
                area += ring.get(i).get(0).asDouble() * ring.get(i + 1).get(1).asDouble()
                        - ring.get(i + 1).get(0).asDouble() * ring.get(i).get(1).asDouble();
            }
        }
        assertThat(area / 2).isGreaterThan(60 * 60 - 4 * 50).isLessThan(90 * 90 * 1.6);
        JsonNode residual = json("job-results/contours/residual.final.geojson").get("features");
        assertThat(residual.size()).isGreaterThan(3);
        assertThat(residual.at("/1/properties/unit").asText()).isEqualTo("nm");
        assertThat(residual.at("/1/properties/from")).isEqualTo(residual.at("/0/properties/to"));
    }

    @Test
    void contours_of_what_is_no_field_or_level_are_told_before_anything_is_computed() throws IOException {
        assertThat(tool.run("run", job(JOB), "--contours", "residual.finel")).isEqualTo(2);
        assertThat(tool.err.toString()).contains("no field residual.finel; did you mean residual.final?");
        assertThat(tool.run("run", job(JOB), "--contours", "residual.final=10 nm,20 MPa"))
                .isEqualTo(2);
        assertThat(tool.err.toString()).contains("levels of residual.final");
        assertThat(directory.resolve("job-results")).doesNotExist();
    }
}
