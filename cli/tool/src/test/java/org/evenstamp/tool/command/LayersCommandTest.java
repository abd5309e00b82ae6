package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.StreamSupport;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A stamp drawn in several files with regions that matter, from the job to results, limits and dummies. */
class LayersCommandTest {
    private static final String JOB = """
            layout:
              layers:
                - {file: wells.wkt, unit: um, role: cavity}
                - {file: wells.wkt, unit: um, role: cavity, depth: "100 nm", mirror: x, offset: ["600 um", "0 um"]}
                - {file: keepout.wkt, unit: um, role: keepout}
                - {file: optics.wkt, unit: um, role: region, name: optics, weight: 3}
              regions:
                - {name: top, where: {box: {min: ["0 um", "400 um"], max: ["600 um", "600 um"]}}, weight: 0}
              outline: {min: ["0 um", "0 um"], max: ["600 um", "600 um"]}
            tiles: {side: "50 um"}
            stamp:
              depth: "150 nm"
              kind: bonded-layer
              layer.modulus: "1 GPa"
              layer.poisson: "0.4 1"
              layer.thickness: "20 um"
            film: {thickness: "250 nm", viscosity: "3e3 Pa s"}
            process: {pressure: "5 MPa", hold: "60 s"}
            dummy: {size: "7 um", gap: "3 um", spacing: "3 um", rim: "2 um", rounds: "1"}
            limits:
              residual.final@optics: {spread: "<= 1 nm", each: ">= 20 nm"}
              residual.final@top: {sigma3: "<= 1 um"}
              residual.final@features: {mean: ">= 1 nm"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @BeforeEach
    void layout() throws IOException {
        StringBuilder wells = new StringBuilder("# one half of the stamp\n");
        for (int i = 0; i < 12; i++) {
            wells.append(box(20 + 18 * i, 200, 10, 150)).append('\n');
        }
        Files.writeString(directory.resolve("wells.wkt"), wells);
        Files.writeString(directory.resolve("keepout.wkt"), box(0, 400, 600, 200));
        Files.writeString(directory.resolve("optics.wkt"), box(10, 190, 230, 170));
    }

    private static String box(int x, int y, int w, int h) {
        return String.format(
                Locale.ROOT, "POLYGON ((%1$d %2$d, %3$d %2$d, %3$d %4$d, %1$d %4$d, %1$d %2$d))", x, y, x + w, y + h);
    }

    private Path job(String text) throws IOException {
        return Files.writeString(directory.resolve("job.yaml"), text);
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper().readTree(directory.resolve(file).toFile());
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    private static List<JsonNode> items(JsonNode list) {
        return StreamSupport.stream(list.spliterator(), false).toList();
    }

    @Test
    void layers_regions_and_limits_on_regions_reach_the_results() throws IOException {
        int code = tool.run("run", job(JOB), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isEqualTo(1); // the wells of the optics leave more than 1 nm of spread
        JsonNode result = json("job-results/result.json");
        // 24 wells of 10 x 150 um; the keep-out and the region are no cavities
        double cavity = items(result.get("figures")).stream()
                .filter(figure -> figure.get("id").asText().equals("cavity.area"))
                .findFirst()
                .orElseThrow()
                .get("value")
                .asDouble();
        assertThat(cavity).isCloseTo(24 * 10 * 150e-6, within(1e-9));
        assertThat(items(result.get("named_regions")))
                .extracting(region -> region.get("name").asText())
                .containsExactly("top", "optics", "features");
        JsonNode optics = result.get("named_regions").get(1);
        assertThat(optics.get("weight").asDouble()).isEqualTo(3);
        assertThat(optics.get("area_mm2").asDouble()).isCloseTo(230 * 170e-6, within(1e-9));
        JsonNode broken = result.get("findings").get(0);
        assertThat(broken.get("region").asText()).isEqualTo("optics");
        assertThat(broken.get("found").asDouble())
                .isCloseTo(optics.get("max").asDouble() - optics.get("min").asDouble(), within(1e-5)); // nine digits
        assertThat(items(result.get("inputs")))
                .extracting(input -> input.get("name").asText())
                .containsExactly("job.yaml", "wells.wkt", "wells.wkt", "keepout.wkt", "optics.wkt");
        String out = tool.out.toString();
        assertThat(out.indexOf("optics")).isLessThan(out.indexOf("where features are"));
        assertThat(out.indexOf("where features are")).isLessThan(out.indexOf("whole stamp"));
        assertThat(out.indexOf("whole stamp")).isLessThan(out.indexOf("cavity.fraction"));
        assertThat(out).contains("residual.final@optics spread <= 1 nm");
    }

    @Test
    void dummies_make_the_region_even_keep_out_of_the_keep_out_and_are_one_more_layer() throws IOException {
        tool.run("dummy", job(JOB), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        JsonNode comparison = json("job-results-dummies/comparison.json");
        assertThat(comparison.get("over").asText()).isEqualTo("optics");
        JsonNode before = comparison.at("/variants/0");
        JsonNode after = comparison.at("/variants/1");
        assertThat(after.get("residual 3 sigma in optics (nm)").asDouble())
                .isLessThan(before.get("residual 3 sigma in optics (nm)").asDouble());
        assertThat(directory.resolve("job-results-dummies/merged.geojson.gz")).doesNotExist();
        JsonNode changed = json("job-results-dummies/result.json");
        assertThat(changed.get("inputs").findValuesAsText("name"))
                .containsExactly("job.yaml", "wells.wkt", "wells.wkt", "keepout.wkt", "optics.wkt", "dummies.geojson");
        assertThat(changed.at("/read/features").asLong())
                .isEqualTo(26 + comparison.get("dummies").asLong());
        for (JsonNode feature : json("job-results-dummies/dummies.geojson").get("features")) {
            for (JsonNode point : feature.at("/geometry/coordinates/0")) {
                assertThat(point.get(1).asDouble()).isLessThan(400);
            }
        }
        assertThat(tool.out.toString())
                .contains("to be even over optics")
                .contains("residual layer in optics: 3 sigma falls by")
                .contains("residual layer where features are: 3 sigma")
                .contains("residual layer on the whole stamp: 3 sigma")
                .contains("the dummies are one more layer");

        Files.move(directory.resolve("job-results-dummies/dummies.geojson"), directory.resolve("dummies.geojson"));
        tool.run(
                "run",
                job(JOB.replace("  regions:", "    - {file: dummies.geojson}\n  regions:")),
                "--no-report",
                "--replace");
        double again =
                json("job-results/result.json").at("/named_regions/1/sigma3").asDouble();
        assertThat(again).isCloseTo(after.get("residual 3 sigma in optics (nm)").asDouble(), within(1e-5));
    }

    @Test
    void dummies_carry_the_properties_that_the_job_asks_for() throws IOException {
        String text = JOB.replace(
                "rounds: \"1\"}",
                "rounds: \"1\", properties: {layer: \"12/\\\"0\\\"\", datatype: 3, width: 1.50, µ: true}}");
        tool.run("dummy", job(text), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        for (JsonNode feature : json("job-results-dummies/dummies.geojson").get("features")) {
            assertThat(feature.get("properties").toString())
                    .isEqualTo(
                            "{\"role\":\"dummy\",\"layer\":\"12/\\\"0\\\"\",\"datatype\":3,\"width\":1.5,\"µ\":true}");
        }
    }

    @Test
    void properties_that_say_what_a_dummy_is_are_not_free_and_lists_are_none() throws IOException {
        tool.run("check", job(JOB.replace("rounds: \"1\"}", "properties: {role: cavity, a: [1, 2], b: }}")));

        assertThat(tool.err.toString())
                .contains("dummy.properties: role says what a feature is and is not free")
                .contains("dummy.properties: a must be a text, a number, true or false, is a list")
                .contains("dummy.properties: b must be a text, a number, true or false, is nothing")
                .contains("3 problems");
    }

    @Test
    void everything_that_is_wrong_with_layers_and_regions_is_told_at_once_with_its_line() throws IOException {
        int code = tool.run("check", job("""
                        layout:
                          layers:
                            - {file: none.wkt, unit: um}
                            - {unit: um, role: cavity}
                            - {file: wells.wkt, unit: second, role: hole}
                            - {file: wells.wkt, unit: um, turn: "45 deg", rotate: "90 deg"}
                            - {file: wells.wkt, unit: um, role: keepout, depth: "100 nm"}
                            - {file: wells.wkt, unit: um, role: cavity, weight: 2, depth: "-100 nm"}
                            - wells.wkt
                          regions:
                            - {name: optics, weight: -1}
                            - {weight: 1}
                            - {name: features}
                            - {name: a@b, where: {}}
                            - {name: left, where: {colour: red, box: {min: ["0 mm", "0 mm"], max: ["-1 mm", "1 mm"]}}}
                            - {name: left}
                        stamp: {depth: "150 nm"}
                        limits:
                          cavity.fraction@: {mean: "<= 1"}
                          cavity.faction@optics: {mean: "<= 1"}
                        """));

        assertThat(code).isEqualTo(3);
        String err = tool.err.toString();
        assertThat(err)
                .contains("job.yaml:3:14")
                .contains("there is no layout file")
                .contains("job.yaml:4:7: this row of layout.layers names no file")
                .contains("job.yaml:5:31: layout.layers: unit")
                .contains("role cannot be \"hole\"")
                .contains("quarter turns only")
                .contains("no key \"rotate\"")
                .contains("the role keepout leaves the relief as it is and has no depth")
                .contains("only regions have a weight")
                .contains("layout.layers.depth is -100 nm")
                .contains("job.yaml:9:7: layout.layers must hold groups of keys")
                .contains("layout.regions.weight is -1")
                .contains("job.yaml:12:7: this row of layout.regions has no name")
                .contains("cannot be called features")
                .contains("has no @: a@b")
                .contains("where says nothing")
                .contains("no key \"colour\"")
                .contains("min must lie to the left of and below max")
                .contains("the region left is described twice")
                .contains("no name of a region behind cavity.fraction@")
                .contains("there is no field cavity.faction to limit");
        assertThat(err).contains("20 problems");
    }

    @Test
    void what_only_the_layout_shows_to_be_wrong_is_told_before_anything_is_solved() throws IOException {
        int code = tool.run(
                "run",
                job(JOB.replace("weight: 0}", "weight: 0}\n    - {name: nobody}")
                        .replace("min: [\"0 um\", \"400 um\"]", "min: [\"900 um\", \"400 um\"]")
                        .replace("max: [\"600 um\", \"600 um\"]}}", "max: [\"950 um\", \"600 um\"]}}")));

        assertThat(code).isEqualTo(3);
        assertThat(tool.err.toString())
                .contains("job.yaml:8:7: layout.regions: row 1: nothing of the region top lies on the stamp")
                .contains("job.yaml:9:7: layout.regions: row 2: no feature of the layout is a region called nobody");
    }

    @Test
    void a_limit_on_a_region_that_is_nowhere_is_told_with_its_line_and_the_regions_there_are() throws IOException {
        int code = tool.run("run", job(JOB.replace("@top", "@topp")));

        assertThat(code).isEqualTo(3);
        assertThat(tool.err.toString())
                .contains("job.yaml:22:33")
                .contains("the limit on residual.final@topp is on a region that the stamp has not")
                .contains("the regions are top, optics, features");
    }

    @Test
    void properties_that_nobody_reads_are_a_warning_with_counts() throws IOException {
        Files.writeString(
                directory.resolve("wells.csv"),
                "wkt,dept,owner\n\"" + box(20, 200, 10, 150) + "\",100 nm,me\n\"" + box(60, 200, 10, 150) + "\",,\n");
        tool.run(
                "run",
                job(JOB.replaceFirst("wells.wkt, unit: um, role: cavity}", "wells.csv, unit: um}")),
                "--no-report");

        assertThat(items(json("job-results/result.json").get("warnings"))).anySatisfy(warning -> {
            assertThat(warning.get("code").asText()).isEqualTo("layout.unused-property");
            assertThat(warning.get("message").asText())
                    .isEqualTo("wells.csv: properties that say nothing to this tool: dept (2 features; did you"
                            + " mean depth?), owner (2 features)");
        });
    }
}
