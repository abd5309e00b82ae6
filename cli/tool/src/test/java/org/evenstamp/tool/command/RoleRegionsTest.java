package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The residual layer by role, from the layout file to the results. */
class RoleRegionsTest {
    private static final String JOB = """
            layout:
              file: FILE
              unit: um
              outline: {min: ["0 um", "0 um"], max: ["400 um", "100 um"]}
            tiles: {side: "100 um"}
            stamp: {depth: "100 nm"}
            film: {thickness: "200 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "5 MPa"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    private String run(String layoutFile, String layout, String out, String threads) throws IOException {
        Files.writeString(directory.resolve(layoutFile), layout);
        Path job = Files.writeString(directory.resolve("job.yaml"), JOB.replace("FILE", layoutFile));
        assertThat(tool.run("run", job, "--out", directory.resolve(out), "--threads", threads))
                .as(tool.err.toString())
                .isZero();
        return Files.readString(directory.resolve(out).resolve("result.json"));
    }

    private static String feature(int x0, int x1, int height, String properties) {
        return ("{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":"
                        + "[[[%d,0],[%d,0],[%d,%d],[%d,%d],[%d,0]]]}}\n")
                .formatted(properties, x0, x1, x1, height, x0, height, x0);
    }

    /**
     * Four tiles: pattern over half of the first and a tenth of the second; dummies over two tenths of the second, half of
     * them of half the depth, and a tenth of the third, of half the depth. Without a solve of the film the layer is its
     * thickness less the cavity volume: 150, 175, 195, 200 nm.
     */
    @Test
    void two_roles_have_the_layer_weighted_by_the_area_that_each_covers() throws IOException {
        String layout = feature(0, 100, 50, "")
                + feature(100, 110, 100, "\"role\":\"cavity\"")
                + feature(180, 200, 50, "\"role\":\"dummy\"")
                + feature(120, 130, 100, "\"role\":\"dummy\",\"depth\":0.05")
                + feature(200, 210, 100, "\"role\":\"dummy\",\"depth\":0.05")
                + feature(300, 400, 100, "\"role\":\"keepout\"");

        String one = run("layout.ndjson", layout, "one", "1");
        String two = run("layout.ndjson", layout, "two", "2");

        assertThat(two).isEqualTo(one);
        JsonNode result = new ObjectMapper().readTree(one);
        JsonNode layer = result.at("/fields/residual.local");
        assertThat(layer.get("min").asDouble()).isCloseTo(150, within(1e-6));
        JsonNode regions = result.get("regions");
        assertThat(regions)
                .extracting(region -> region.path("role").asText())
                .containsExactly("", "", "", "cavity", "dummy");
        JsonNode cavity = regions.get(3);
        assertThat(cavity.get("mean").asDouble()).isCloseTo((0.5 * 150 + 0.1 * 175) / 0.6, within(1e-6));
        assertThat(cavity.get("sigma3").asDouble()).isCloseTo(3 * Math.sqrt(5 / 36.0) * 25, within(1e-6));
        assertThat(cavity.get("area_mm2").asDouble()).isCloseTo(0.006, within(1e-9));
        assertThat(cavity.get("share").asDouble()).isCloseTo(0.15, within(1e-9));
        assertThat(cavity.get("least_depth_nm").asDouble()).isEqualTo(100);
        JsonNode dummy = regions.get(4);
        assertThat(dummy.get("mean").asDouble()).isCloseTo((0.2 * 175 + 0.1 * 195) / 0.3, within(1e-6));
        assertThat(dummy.get("min").asDouble()).isCloseTo(175, within(1e-6));
        assertThat(dummy.get("max").asDouble()).isCloseTo(195, within(1e-6));
        assertThat(dummy.get("tiles").asInt()).isEqualTo(2);
        assertThat(dummy.get("least_depth_nm").asDouble()).isCloseTo(50, within(1e-9));
        assertThat(dummy.get("most_depth_nm").asDouble()).isEqualTo(100);
        assertThat(tool.out.toString()).contains("residual.local by role");
    }

    @Test
    void a_layout_without_roles_has_none() throws IOException {
        JsonNode result = new ObjectMapper()
                .readTree(run("layout.wkt", "POLYGON ((0 0, 100 0, 100 50, 0 50, 0 0))\n", "plain", "1"));

        assertThat(result.get("regions"))
                .extracting(region -> region.get("region").asText())
                .containsExactly("land", "cavities");
        assertThat(tool.out.toString()).doesNotContain("by role");
    }
}
