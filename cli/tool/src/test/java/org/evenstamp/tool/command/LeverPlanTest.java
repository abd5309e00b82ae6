package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;

/** A plan of levers: deep pads that may be broken up, one that may not, and lines, all on one stamp. */
class LeverPlanTest {
    private static final GeometryFactory SHAPES = new GeometryFactory();
    private static final String JOB = """
            layout:
              file: layout.geojson
              outline: {min: ["0 um", "0 um"], max: ["600 um", "600 um"]}
            tiles: {side: "50 um", resolution: off}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {thickness: "250 nm", viscosity: "3e3 Pa s"}
            process: {pressure: "5 MPa", hold: "60 s"}
            dummy:
              size: "7 um"
              gap: "3 um"
              spacing: "3 um"
              rim: "2 um"
              over: features
              post-depth: "200 nm"
              post-size: "6 um"
              post-gap: "4 um"
              post-spacing: "5 um"
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private final List<Geometry> open = new ArrayList<>();
    private final List<Geometry> closed = new ArrayList<>();

    @BeforeEach
    void layout() throws IOException {
        StringBuilder features = new StringBuilder();
        open.add(box(features, "\"depth\": \"200 nm\"", 75, 75, 150, 150));
        open.add(box(features, "\"depth\": \"200 nm\"", 360, 90, 120, 90));
        closed.add(box(features, "", 90, 380, 130, 130));
        closed.add(box(features, "\"depth\": \"220 nm\"", 300, 480, 90, 60));
        for (int i = 0; i < 12; i++) {
            closed.add(box(features, "", 330 + 18 * i, 300, 8, 120));
        }
        Files.writeString(
                directory.resolve("layout.geojson"),
                "{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[" + features + "]}");
    }

    private static Geometry box(StringBuilder features, String properties, int x, int y, int w, int h) {
        features.append(features.isEmpty() ? "" : ",")
                .append(String.format(
                        Locale.ROOT,
                        "{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":"
                                + "[[[%2$d,%3$d],[%4$d,%3$d],[%4$d,%5$d],[%2$d,%5$d],[%2$d,%3$d]]]}}",
                        properties,
                        x,
                        y,
                        x + w,
                        y + h));
        return SHAPES.toGeometry(new Envelope(x, x + w, y, y + h));
    }

    private Path job(String name, String text) throws IOException {
        return Files.writeString(directory.resolve(name), text);
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper().readTree(directory.resolve(file).toFile());
    }

    private List<Geometry> drawn(String file) throws IOException {
        List<Geometry> shapes = new ArrayList<>();
        for (JsonNode feature : json(file).get("features")) {
            List<Coordinate> ring = new ArrayList<>();
            feature.at("/geometry/coordinates/0")
                    .forEach(point -> ring.add(
                            new Coordinate(point.get(0).asDouble(), point.get(1).asDouble())));
            shapes.add(SHAPES.createPolygon(ring.toArray(new Coordinate[0])));
        }
        return shapes;
    }

    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    @ParameterizedTest
    @ValueSource(strings = {"x", "y"})
    void ribs_run_along_their_axis_and_keep_off_the_walls_and_each_other(String axis) throws IOException {
        String ribs = JOB.replace("post-size: \"6 um\"", "post-size: \"4 um\"")
                + "  post-length: \"30 um\"\n  post-direction: " + axis + "\n";
        assertThat(tool.run("dummy", job("job.yaml", ribs), "--levers", "--out", directory.resolve("plan")))
                .as(tool.err.toString())
                .isZero();
        JsonNode plan = json("plan/plan.json");
        JsonNode lever = lever(plan, "posts");
        assertThat(lever.get("what").asText()).contains(" ribs in cavities");
        assertThat(lever.get("alone_nm").asDouble())
                .isLessThan(plan.get("goal_start_nm").asDouble());
        List<Geometry> drawn = drawn("plan/posts.geojson");
        assertThat(drawn).isNotEmpty();
        for (int n = 0; n < drawn.size(); n++) {
            Geometry rib = drawn.get(n);
            Envelope box = rib.getEnvelopeInternal();
            assertThat(axis.equals("x") ? box.getWidth() : box.getHeight()).isCloseTo(30, within(1e-6));
            assertThat(axis.equals("x") ? box.getHeight() : box.getWidth()).isCloseTo(4, within(1e-6));
            assertThat(open)
                    .anyMatch(pad -> pad.covers(rib) && pad.getBoundary().distance(rib) > 5 - 1e-6);
            for (Geometry other : drawn.subList(0, n)) {
                assertThat(other.distance(rib)).isGreaterThan(4 - 1e-6);
            }
        }
    }

    @Test
    void what_is_drawn_keeps_its_rules_and_a_second_run_of_it_says_what_the_plan_claims() throws IOException {
        assertThat(tool.run("dummy", job("job.yaml", JOB), "--levers", "--out", directory.resolve("plan")))
                .as(tool.err.toString())
                .isZero();

        JsonNode plan = json("plan/plan.json");
        JsonNode dummies = lever(plan, "dummies");
        JsonNode posts = lever(plan, "posts");
        JsonNode film = lever(plan, "film map");
        assertThat(plan.get("levers"))
                .extracting(one -> one.get("taken").asText())
                .startsWith("drawn", "drawn");
        assertThat(lever(plan, "depth").get("taken").asText()).isEqualTo("told");
        assertThat(lever(plan, "depth").has("file")).isFalse();
        double start = plan.get("goal_start_nm").asDouble();
        double together = Math.min(
                dummies.get("together_nm").asDouble(), posts.get("together_nm").asDouble());
        for (JsonNode lever : plan.get("levers")) {
            assertThat(lever.get("alone_nm").asDouble()).isLessThanOrEqualTo(start);
        }
        assertThat(together)
                .isLessThan(dummies.get("alone_nm").asDouble())
                .isLessThan(posts.get("alone_nm").asDouble());

        rulesAreKept();
        drawnFilesAreAmongThoseRead();

        String layers = JOB.replace(
                "file: layout.geojson",
                "layers: [{file: layout.geojson}, {file: plan/dummies.geojson}, {file: plan/posts.geojson}]");
        assertThat(tool.run("run", job("again.yaml", layers), "--quiet")).isZero();
        assertThat(json("again-results/result.json").at("/fields/residual.final"))
                .isEqualTo(json("plan/result.json").at("/fields/residual.final"));
        assertThat(sigma3("again-results")).isCloseTo(together, within(1e-6 * start));

        assertThat(film.has("file")).isTrue();
        String onFilm = layers.replace("thickness: \"250 nm\"", "thickness-map: plan/film-map.csv");
        assertThat(tool.run("run", job("film.yaml", onFilm), "--quiet"))
                .as(tool.err.toString())
                .isZero();
        assertThat(sigma3("film-results")).isCloseTo(film.get("together_nm").asDouble(), within(1e-3 * start));
    }

    /** Each under its own name, with its own length. */
    private void drawnFilesAreAmongThoseRead() throws IOException {
        Map<String, Long> read = new HashMap<>();
        json("plan/result.json")
                .get("inputs")
                .forEach(input ->
                        read.put(input.get("name").asText(), input.get("bytes").asLong()));
        for (String name : List.of("dummies.geojson", "posts.geojson")) {
            assertThat(read)
                    .containsEntry(name, Files.size(directory.resolve("plan").resolve(name)));
        }
    }

    private static JsonNode lever(JsonNode plan, String name) {
        for (JsonNode lever : plan.get("levers")) {
            if (lever.get("lever").asText().equals(name)) {
                return lever;
            }
        }
        throw new AssertionError(name);
    }

    /** Three standard deviations over what the layout's own features cover, each tile by the area that they have in it. */
    private double sigma3(String results) throws IOException {
        List<String[]> rows = Files.readAllLines(directory.resolve(results).resolve("tiles.csv")).stream()
                .map(line -> line.split(",", -1))
                .toList();
        int column = List.of(rows.get(0)).indexOf("residual.final");
        double weight = 0;
        double mean = 0;
        double squares = 0;
        for (int pass = 0; pass < 2; pass++) {
            for (int tile = 0; tile < 144; tile++) {
                int left = 50 * (tile % 12);
                int low = 50 * (tile / 12);
                Geometry square = SHAPES.toGeometry(new Envelope(left, left + 50, low, low + 50));
                double area = 0;
                for (Geometry feature : open) {
                    area += feature.intersection(square).getArea();
                }
                for (Geometry feature : closed) {
                    area += feature.intersection(square).getArea();
                }
                double layer = Double.parseDouble(rows.get(1 + tile)[column]);
                if (pass == 0) {
                    weight += area;
                    mean += area * layer;
                } else {
                    squares += area * (layer - mean / weight) * (layer - mean / weight);
                }
            }
        }
        return 3 * Math.sqrt(squares / weight);
    }

    private void rulesAreKept() throws IOException {
        List<Geometry> posts = drawn("plan/posts.geojson");
        List<Geometry> dummies = drawn("plan/dummies.geojson");
        assertThat(posts).isNotEmpty();
        assertThat(dummies).isNotEmpty();
        for (Geometry post : posts) {
            assertThat(post.getArea()).isCloseTo(36, within(1e-6));
            assertThat(open)
                    .anyMatch(pad -> pad.contains(post) && pad.getBoundary().distance(post) > 5 - 1e-6);
            assertThat(closed).allMatch(feature -> feature.distance(post) > 5 - 1e-6);
        }
        for (Geometry dummy : dummies) {
            assertThat(open).allMatch(feature -> feature.distance(dummy) > 3 - 1e-6);
            assertThat(closed).allMatch(feature -> feature.distance(dummy) > 3 - 1e-6);
        }
        for (int i = 0; i < posts.size(); i++) {
            for (int j = 0; j < i; j++) {
                assertThat(posts.get(i).distance(posts.get(j))).isGreaterThan(4 - 1e-6);
            }
        }
        assertThat(json("plan/posts.geojson").at("/features/0/properties/role").asText())
                .isEqualTo("protrusion");
    }

    @Test
    void no_feature_is_changed_that_nobody_opened_and_none_that_is_not_there() throws IOException {
        String without = JOB.replaceAll("(?m)^ *post-.*\n", "");
        assertThat(tool.run("dummy", job("job.yaml", without), "--levers", "--out", directory.resolve("plan")))
                .isZero();
        assertThat(json("plan/plan.json").get("levers"))
                .extracting(one -> one.get("lever").asText())
                .doesNotContain("posts");
        assertThat(directory.resolve("plan/posts.geojson")).doesNotExist();

        tool.err.getBuffer().setLength(0);
        Path wrong = job("wrong.yaml", JOB.replace("post-depth: \"200 nm\"", "post-depth: \"90 nm\""));
        assertThat(tool.run("dummy", wrong, "--levers")).isEqualTo(3);
        assertThat(tool.err.toString()).contains("post-depth").contains("no post finds a place");

        tool.err.getBuffer().setLength(0);
        Path half = job("half.yaml", JOB.replaceAll("(?m)^ *post-size.*\n", ""));
        assertThat(tool.run("dummy", half, "--levers")).isEqualTo(3);
        assertThat(tool.err.toString()).contains("dummy.post-size");
    }

    @Test
    void a_film_that_is_not_solved_has_no_plan() throws IOException {
        Path job = job("job.yaml", JOB.replace(", viscosity: \"3e3 Pa s\"", ""));

        assertThat(tool.run("dummy", job, "--levers")).isEqualTo(3);

        assertThat(tool.err.toString()).contains("a plan of levers is made of solves");
    }
}
