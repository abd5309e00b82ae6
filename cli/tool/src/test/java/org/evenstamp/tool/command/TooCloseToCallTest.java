package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.evenstamp.tool.exit.ExitCode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Limits whose numbers the tiles do not tell well enough, from polygons to the verdict. */
@SuppressWarnings("InlineFormatString") // a job reads better whole
class TooCloseToCallTest {
    private static final String JOB = """
            layout:
              file: layout.wkt
              format: wkt-lines
              unit: um
              outline: {min: ["0 um", "0 um"], max: ["2400 um", "2400 um"]}
            tiles: {side: "150 um"}
            stamp: %s
            film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "5 MPa", hold: "%s"}
            limits: {%s}
            """;
    private static final String SOFT =
            "{depth: \"150 nm\", kind: bonded-layer, layer.modulus: \"2 GPa\", layer.thickness: \"300 um\", layer.poisson: 0.4}";
    private static final String RIGID = "{depth: \"150 nm\", kind: rigid}";

    @TempDir
    Path directory;

    private TriedTool tool = new TriedTool();

    /** A wide field of cavities, and one small cavity in wide land. */
    private JsonNode run(String stamp, String hold, String limits) throws IOException {
        tool = new TriedTool();
        Files.writeString(directory.resolve("layout.wkt"), """
                POLYGON ((300 300, 1000 300, 1000 2100, 300 2100, 300 300))
                POLYGON ((1870 1100, 1930 1100, 1930 1160, 1870 1160, 1870 1100))
                """);
        Path job =
                Files.writeString(directory.resolve("job.yaml"), String.format(Locale.ROOT, JOB, stamp, hold, limits));
        assertThat(tool.run("run", job, "--no-report", "--replace", "--out", directory.resolve("out")))
                .as(tool.err.toString())
                .isIn(0, ExitCode.LIMIT_EXCEEDED);
        return new ObjectMapper()
                .readTree(directory.resolve("out").resolve("result.json").toFile());
    }

    private static double resolution(JsonNode result, String id) {
        for (JsonNode part : result.get("analyses")) {
            for (JsonNode figure : part.get("figures")) {
                if (part.get("id").asText().equals("resolution")
                        && figure.get("id").asText().equals(id)) {
                    return figure.get("value").asDouble();
                }
            }
        }
        return Double.NaN;
    }

    @Test
    void a_limit_is_too_close_within_three_times_what_wider_tiles_differ_by() throws IOException {
        JsonNode first = run(SOFT, "60 s", "residual.final: {spread: \"<= 1000 nm\"}");
        double spread = first.at("/fields/residual.final/max").asDouble()
                - first.at("/fields/residual.final/min").asDouble();
        double error = resolution(first, "residual.final.spread");
        assertThat(error).isPositive();
        for (double times : new double[] {-2.8, 3.2}) {
            JsonNode result = run(
                    SOFT,
                    "60 s",
                    String.format(Locale.ROOT, "residual.final: {spread: \"<= %.9g nm\"}", spread + times * error));
            assertThat(result.at("/limits/0").has("too_close")).as("%s", times).isEqualTo(Math.abs(times) < 3);
            assertThat(tool.out.toString().contains("too close to call on these tiles: residual.final"))
                    .isEqualTo(Math.abs(times) < 3);
        }
    }

    @Test
    void tiles_too_wide_to_tell_whether_a_small_cavity_fills_under_a_soft_stamp_say_so() throws IOException {
        JsonNode soft = run(SOFT, "60 s", "fill.share: {each: \">= 0.999\"}");
        assertThat(soft.get("verdict").asText()).isEqualTo("tiles not full, limit exceeded");
        assertThat(soft.get("warnings").toString()).contains("film.unfilled-undecided", "only smaller tiles");
        assertThat(soft.at("/limits/0/too_close").asBoolean()).isTrue();
        // A rigid stamp does not come down to it on tiles of any side.
        JsonNode rigid = run(RIGID, "60 s", "fill.share: {each: \">= 0.999\"}");
        assertThat(rigid.get("verdict").asText()).isEqualTo("tiles not full, limit exceeded");
        assertThat(rigid.get("warnings").toString()).doesNotContain("film.unfilled-undecided");
    }
}
