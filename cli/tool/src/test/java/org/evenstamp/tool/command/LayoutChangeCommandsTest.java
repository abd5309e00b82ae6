package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The verbs that propose a change: dummy, drops, film. */
class LayoutChangeCommandsTest {
    private static final String JOB = """
            layout:
              file: layout.geojson
              outline: {min: ["0 um", "0 um"], max: ["600 um", "600 um"]}
            tiles: {side: "50 um"}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {thickness: "250 nm", viscosity: "3e3 Pa s", target-residual: "120 nm"}
            process: {pressure: "5 MPa", hold: "60 s"}
            dummy: {size: "7 um", gap: "3 um", spacing: "3 um", rim: "2 um", rounds: "1"}
            drops: {residual: "50 nm", volume: "0.1 pL", pitch: "10 um", evaporation: "10 %"}
            limits:
              residual.final: {each: ">= 20 nm"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private final StringWriter out = tool.out;
    private final StringWriter err = tool.err;

    private int run(Object... arguments) {
        return tool.run(arguments);
    }

    /** Writes a layout of 8 um squares at a step of 10 um, and the job beside it. */
    private Path job(int columns, int rows, String text) throws IOException {
        StringBuilder features = new StringBuilder();
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int x = 10 * column + 1;
                int y = 10 * row + 1;
                features.append(features.isEmpty() ? "" : ",")
                        .append(
                                "{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[")
                        .append("[%d,%d],[%d,%d],[%d,%d],[%d,%d],[%d,%d]"
                                .formatted(x, y, x + 8, y, x + 8, y + 8, x, y + 8, x, y))
                        .append("]]}}");
            }
        }
        Files.writeString(
                directory.resolve("layout.geojson"),
                "{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[" + features + "]}");
        return Files.writeString(directory.resolve("job.yaml"), text);
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper().readTree(directory.resolve(file).toFile());
    }

    /** Returns what the report in a directory needs beside the result. */
    private JsonNode view(String results) throws IOException {
        String page = Files.readString(directory.resolve(results).resolve("report.html"));
        int begin = page.indexOf('>', page.indexOf("id=\"view\"")) + 1;
        return new ObjectMapper().readTree(page.substring(begin, page.indexOf("</script>", begin)));
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    @Test
    void dummies_even_out_the_residual_layer_and_a_run_of_the_merged_layout_says_the_same() throws IOException {
        Path job = job(30, 20, JOB.replace("rounds: \"1\"", "rounds: \"3\""));

        assertThat(run("dummy", job)).as(err.toString()).isZero();

        assertThat(out.toString())
                .contains("residual 3 sigma")
                .contains("limit residual.final each >= 20 nm")
                .contains("3 sigma falls by");
        JsonNode comparison = json("job-results-dummies/comparison.json");
        double before =
                comparison.at("/variants/0").get("residual 3 sigma (nm)").asDouble();
        double after = comparison.at("/variants/1").get("residual 3 sigma (nm)").asDouble();
        assertThat(after).isLessThan(0.6 * before);
        assertThat(comparison.at("/rounds/0/gap").asDouble()).isBetween(0.0, 1e-5);
        JsonNode dummies = json("job-results-dummies/dummies.geojson");
        assertThat(dummies.get("features")).hasSize(comparison.get("dummies").asInt());
        assertThat(dummies.at("/features/0/properties/role").asText()).isEqualTo("dummy");
        assertThat(comparison.get("dummy_area_mm2").asDouble())
                .isCloseTo(comparison.get("dummies").asInt() * 49e-6, within(1e-9));
        assertThat(directory.resolve("job-results-dummies/comparison/residual.final.png"))
                .exists();
        patternAndDummiesAreToldApart(comparison, dummies);
        theCurveFallsAndTheClaimIsThatOfTheLastRun(comparison, before, after);
        JsonNode view = view("job-results-dummies");
        assertThat(view.get("other").asText()).isEqualTo("before");
        assertThat(view.get("fields")).allMatch(field -> field.get("other").asInt() > 0);
        assertThat(view.at("/sketch/shown").asInt())
                .isEqualTo(600 + comparison.get("dummies").asInt());

        Files.move(directory.resolve("job-results-dummies/merged.geojson.gz"), directory.resolve("merged.geojson.gz"));
        Path again =
                Files.writeString(directory.resolve("again.yaml"), JOB.replace("layout.geojson", "merged.geojson.gz"));
        assertThat(run("run", again, "--quiet")).isZero();
        for (String field : List.of("residual.final", "cavity.volume")) {
            assertThat(json("again-results/result.json").at("/fields").get(field))
                    .isEqualTo(json("job-results-dummies/result.json")
                            .at("/fields")
                            .get(field));
        }
    }

    private void theCurveFallsAndTheClaimIsThatOfTheLastRun(JsonNode comparison, double before, double after)
            throws IOException {
        assertThat(out.toString()).contains("the most that dummies were found to bring");
        assertThat(comparison.get("goal_start_nm").asDouble()).isCloseTo(before, within(1e-6 * before));
        assertThat(comparison.get("rounds"))
                .extracting(round -> round.get("way").asText())
                .startsWith("averages", "slopes")
                .endsWith("fewer");
        long dummies = 0;
        double goal = before;
        boolean proposed = false;
        for (JsonNode place : comparison.get("curve")) {
            assertThat(place.get("dummies").asLong()).isGreaterThan(dummies);
            assertThat(place.get("goal_nm").asDouble()).isLessThan(goal);
            dummies = place.get("dummies").asLong();
            goal = place.get("goal_nm").asDouble();
            if (place.get("proposed").asBoolean()) {
                proposed = true;
                assertThat(dummies).isEqualTo(comparison.get("dummies").asLong());
                assertThat(goal).isCloseTo(after, within(1e-6 * after));
            }
        }
        assertThat(proposed).isTrue();
        String page = Files.readString(directory.resolve("job-results-dummies/report.html"));
        String help = page.substring(page.indexOf("id=\"part-help\""), page.indexOf("id=\"part-curves\""));
        assertThat(help)
                .contains(String.format(
                        Locale.ROOT,
                        "<th scope=\"row\">%,d</th>",
                        comparison.get("dummies").asLong()))
                .contains("<th scope=\"row\">features</th>")
                .contains("proposed</td>");
        assertThat(help.split("<circle", -1)).hasSize(comparison.get("curve").size() + 2);
        for (JsonNode round : comparison.get("rounds")) {
            assertThat(round.get("goal_nm").asDouble()).isGreaterThanOrEqualTo(goal);
        }
    }

    @Test
    void a_range_is_judged_as_a_range_and_the_averages_alone_need_no_slopes() throws IOException {
        Path range = job(30, 20, JOB.replace("rounds: \"1\"", "rounds: \"3\", goal: range"));

        assertThat(run("dummy", range, "--quiet", "--out", directory.resolve("range")))
                .isZero();

        JsonNode comparison = json("range/comparison.json");
        assertThat(comparison.get("goal").asText()).isEqualTo("largest less smallest");
        double least = Double.POSITIVE_INFINITY;
        for (JsonNode round : comparison.get("rounds")) {
            least = Math.min(least, round.get("goal_nm").asDouble());
        }
        double after =
                comparison.at("/variants/1").get("residual max - min (nm)").asDouble();
        double start = comparison.get("goal_start_nm").asDouble();
        assertThat(after).isBetween(least * (1 - 1e-6), least + 0.01 * start);

        assertThat(run(
                        "dummy",
                        job(30, 20, JOB.replace("rounds: \"1\"", "rounds: \"3\", amounts: window")),
                        "--out",
                        directory.resolve("window")))
                .isZero();
        comparison = json("window/comparison.json");
        assertThat(comparison.get("no_slopes").asText()).isEqualTo("dummy.amounts is window");
        assertThat(comparison.get("rounds"))
                .allMatch(round -> round.get("way").asText().equals("averages"));
    }

    @Test
    void a_film_whose_way_back_is_not_known_is_evened_out_by_averages_and_says_so() throws IOException {
        Path job = job(
                30,
                20,
                JOB.replace("hold: \"60 s\"", "hold: \"60 s\", gas-pressure: \"0.1 MPa\"")
                        .replace("rounds: \"1\"", "rounds: \"2\""));

        assertThat(run("dummy", job)).as(err.toString()).isIn(0, 1);

        assertThat(out.toString()).contains("without slopes of the solve:").contains("gas");
    }

    @Test
    void nothing_to_even_out_is_refused_with_the_reason() throws IOException {
        Path job = job(
                30, 20, JOB.replace("outline:", "regions: [{name: nowhere, where: {role: protrusion}}]\n  outline:"));

        assertThat(run("dummy", job)).isEqualTo(3);

        assertThat(err.toString()).contains("nothing of the region nowhere lies on the stamp");
    }

    /** Every dummy of 49 um^2 lies within one tile of 50 um: the mean over them is that of their tiles' layer. */
    private void patternAndDummiesAreToldApart(JsonNode comparison, JsonNode dummies) throws IOException {
        JsonNode regions = json("job-results-dummies/result.json").get("regions");
        assertThat(regions).extracting(one -> one.path("role").asText()).containsExactly("", "", "cavity", "dummy");
        assertThat(regions.at("/2/area_mm2").asDouble()).isCloseTo(600 * 64e-6, within(1e-9));
        assertThat(regions.at("/3/area_mm2").asDouble())
                .isCloseTo(comparison.get("dummy_area_mm2").asDouble(), within(1e-9));
        assertThat(regions.at("/3/share").asDouble())
                .isCloseTo(comparison.get("dummy_area_mm2").asDouble() / 0.36, within(1e-8));
        List<String[]> rows = Files.readAllLines(directory.resolve("job-results-dummies/tiles.csv")).stream()
                .map(line -> line.split(",", -1))
                .toList();
        int column = List.of(rows.get(0)).indexOf("residual.final");
        double sum = 0;
        double squares = 0;
        for (JsonNode dummy : dummies.get("features")) {
            JsonNode corner = dummy.at("/geometry/coordinates/0/0");
            int row = (int) Math.floor(corner.get(1).asDouble() / 50);
            int tile = 12 * row + (int) Math.floor(corner.get(0).asDouble() / 50);
            double layer = Double.parseDouble(rows.get(1 + tile)[column]);
            sum += layer;
            squares += layer * layer;
        }
        double mean = sum / dummies.get("features").size();
        double sigma3 = 3 * Math.sqrt(squares / dummies.get("features").size() - mean * mean);
        assertThat(regions.at("/3/mean").asDouble()).isCloseTo(mean, within(1e-5));
        assertThat(regions.at("/3/sigma3").asDouble()).isCloseTo(sigma3, within(1e-3));
        JsonNode after = comparison.at("/variants/1");
        assertThat(after.get("residual mean, dummy (nm)").asDouble()).isCloseTo(mean, within(1e-5));
        assertThat(after.get("residual 3 sigma, dummy (nm)").asDouble()).isCloseTo(sigma3, within(1e-3));
        JsonNode before = comparison.at("/variants/0");
        assertThat(after.get("residual mean, cavity (nm)").asDouble())
                .isEqualTo(regions.at("/2/mean").asDouble())
                .isNotEqualTo(before.get("residual mean, cavity (nm)").asDouble());
        assertThat(out.toString()).contains("residual 3 sigma, cavity").contains("residual 3 sigma, dummy");
    }

    @Test
    void an_even_layout_gets_no_dummies() throws IOException {
        Path job = job(60, 60, JOB);

        assertThat(run("dummy", job, "--out", directory.resolve("even"))).isEqualTo(3);
        assertThat(err.toString()).contains("no dummy of 7 um x 7 um finds a free place");

        assertThat(run(
                        "dummy",
                        job(
                                60,
                                60,
                                JOB.replace("size: \"7 um\"", "size: \"1 um\"")
                                        .replace("spacing: \"3 um\"", "spacing: \"0.2 um\"")),
                        "--out",
                        directory.resolve("even")))
                .isZero();
        assertThat(json("even/comparison.json").get("dummies").asInt()).isZero();
    }

    @Test
    void says_it_when_dummies_make_a_limit_worse() throws IOException {
        Path job = job(30, 20, JOB + "  cavity.fraction: {mean: \"<= 0.2\"}\n");

        assertThat(run("dummy", job)).isEqualTo(1);

        assertThat(out.toString())
                .contains("the dummies make 1 limit(s) worse")
                .contains("cavity.fraction mean <= 0.2")
                .contains("WORSE: exceeded now");
    }

    @Test
    void levers_stand_in_the_same_table_and_threads_do_not_matter() throws IOException {
        Path job = job(30, 20, JOB);

        assertThat(run("dummy", job, "--what-if", "--quiet", "--threads", 1, "--out", directory.resolve("one")))
                .isZero();
        assertThat(run("dummy", job, "--what-if", "--quiet", "--threads", 3, "--out", directory.resolve("three")))
                .isZero();

        assertThat(out.toString()).isEmpty();
        assertThat(json("one/comparison.json").get("variants")).hasSize(5);
        for (String file : List.of("comparison.json", "dummies.geojson", "merged.geojson.gz", "result.json")) {
            assertThat(directory.resolve("one").resolve(file))
                    .hasSameBinaryContentAs(directory.resolve("three").resolve(file));
        }
    }

    @Test
    void missing_and_impossible_rules_are_the_users_and_leave_nothing_behind() throws IOException {
        assertThat(run("dummy", job(3, 3, JOB.replaceAll("(?m)^dummy:.*$", ""))))
                .isEqualTo(3);
        assertThat(err.toString()).contains("dummy.size").contains("dummy.gap").contains("dummy.spacing");

        assertThat(run("dummy", job(3, 3, JOB.replace("size: \"7 um\"", "size: \"70 um\""))))
                .isEqualTo(3);
        assertThat(err.toString()).contains("does not fit into a tile of 50 um");
        try (Stream<Path> left = Files.list(directory)) {
            assertThat(left.map(path -> path.getFileName().toString())).containsOnly("job.yaml", "layout.geojson");
        }
    }

    @Test
    void drops_hold_the_volume_to_one_drop() throws IOException {
        Path job = job(30, 20, JOB);

        assertThat(run("drops", job)).as(err.toString()).isZero();

        List<String> lines = Files.readAllLines(directory.resolve("job-results-drops/drops.csv"));
        long drops = lines.stream()
                .skip(1)
                .mapToLong(line -> Long.parseLong(line.substring(line.lastIndexOf(',') + 1)))
                .sum();
        // 600 squares of 64 um^2, 150 nm deep, and 50 nm everywhere; 0.09 pL are left of a drop.
        double needed = (600 * 64e-12 * 150e-9 + 360_000e-12 * 50e-9) / 0.09e-15;
        assertThat((double) drops).isCloseTo(needed, within(1.0));
        assertThat(json("job-results-drops/drops.geojson").get("features")).hasSize(lines.size() - 1);
        assertThat(out.toString()).contains("slowest drops meet after").contains("trained staff");
        JsonNode view = view("job-results-drops");
        assertThat(view.get("fields"))
                .extracting(field -> field.get("id").asText())
                .contains("drop.need", "drop.given", "drop.count", "drop.time");
        assertThat(view.at("/sketch/shown").asInt()).isEqualTo(600);
    }

    @Test
    void no_verb_writes_a_report_that_is_not_wanted() throws IOException {
        Path job = job(30, 20, JOB);

        for (String verb : List.of("dummy", "drops")) {
            assertThat(run(verb, job, "--no-report", "--out", directory.resolve(verb)))
                    .isZero();
            assertThat(directory.resolve(verb).resolve("result.json")).exists();
            assertThat(directory.resolve(verb).resolve("report.html")).doesNotExist();
        }
    }

    @Test
    void drops_that_meet_too_late_are_said_and_exceed() throws IOException {
        Path job = job(30, 20, JOB.replace("pitch: \"10 um\"", "pitch: \"10 um\", time: \"1e-6 s\""));

        assertThat(run("drops", job)).isEqualTo(1);
        assertThat(out.toString()).contains("do not meet within 1.000e-06 s");
        JsonNode finding = json("job-results-drops/result.json").at("/findings/0");
        assertThat(finding.get("field").asText()).isEqualTo("drop.time");
        assertThat(finding.get("bound").asDouble()).isEqualTo(1e-6);
        assertThat(finding.get("tiles").asInt()).isEqualTo(144);
    }

    @Test
    void the_film_for_a_residual_layer_is_that_layer_and_the_mean_volume() throws IOException {
        Path job = job(30, 20, JOB.replace("hold: \"60 s\"", "hold: \"1 h\"")); // long enough for all to fill

        assertThat(run("film", job)).as(err.toString()).isZero();

        // 600 squares of 64 um^2 on 360,000 um^2, 150 nm deep: 16 nm
        assertThat(out.toString())
                .contains("a mean residual layer of 120.0 nm needs a film of 136.0 nm")
                .contains("a rigid stamp would leave 120.0 nm everywhere");
        out.getBuffer().setLength(0);
        assertThat(run("film", job, "--json")).isZero();
        assertThat(PublishedSchemas.answerErrors("film", out.toString())).isEmpty();
        JsonNode film = new ObjectMapper().readTree(out.toString());
        assertThat(film.get("film_thickness_nm").asDouble()).isCloseTo(136, within(1e-6));
        assertThat(film.get("variants")).hasSize(5);
        assertThat(film.at("/variants/2").get("residual mean (nm)").asDouble()).isCloseTo(120, within(0.5));
    }

    @Test
    void a_film_that_is_spun_gives_way_to_the_thicknesses_that_are_tried() throws IOException {
        Path job = job(
                30,
                20,
                JOB.replace(
                        "thickness: \"250 nm\"",
                        "spin-speed: \"3000 rpm\", spin-measured-speed: \"3000 rpm\", spin-measured-thickness: \"250 nm\""));

        assertThat(run("film", job)).as(err.toString()).isZero();

        assertThat(out.toString()).contains("needs a film of 136.0 nm");
    }
}
