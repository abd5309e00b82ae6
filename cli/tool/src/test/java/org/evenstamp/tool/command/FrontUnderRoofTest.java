package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A filling front between roof and substrate, from polygons to the fill time, at many tile sides: gratings under a rigid stamp,
 * 150 nm deep, a film of 250 nm and 1e4 Pa s under 5 MPa. The truth is an ordinary differential equation, integrated to 20
 * digits: Stefan's pressure drop under the land, Poiseuille's under the roof up to the front.
 */
@SuppressWarnings("InlineFormatString") // a job reads better whole
class FrontUnderRoofTest {
    private static final String JOB = """
            layout:
              file: layout.wkt
              format: wkt-lines
              unit: um
              outline: {min: ["0 um", "0 um"], max: ["%s um", "%s um"]}
            tiles: {side: "%s um", resolution: %s}
            stamp: {depth: "150 nm", kind: rigid}
            film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "5 MPa", hold: "%s s"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @ParameterizedTest(name = "land {0}, cavity {1}, tiles of {3} um shifted by {4}")
    @CsvSource({
        "10, 30, 2.72065857, 2.5, 0",
        "10, 30, 2.72065857, 20, 0",
        "10, 30, 2.72065857, 40, 0",
        "10, 30, 2.72065857, 40, 13.3",
        "10, 30, 2.72065857, 80, 26.7",
        "10, 30, 2.72065857, 50, 16.7",
        "10, 30, 2.72065857, 60, 12",
        "10, 30, 2.72065857, 100, 0",
        "10, 30, 2.72065857, 100, 33.3",
        "10, 30, 2.72065857, 60, 20",
        "10, 30, 2.72065857, 330, 0",
        "10, 30, 2.72065857, 330, 110",
        "10, 30, 2.72065857, 400, 0",
        "10, 30, 2.72065857, 400, 133",
        "200, 200, 482.496922, 12.5, 0",
        "200, 200, 482.496922, 12.5, 4.2",
        "200, 200, 482.496922, 200, 0",
        "200, 200, 482.496922, 400, 0",
        "200, 200, 482.496922, 400, 133",
        "200, 200, 482.496922, 2000, 0",
        "200, 200, 482.496922, 4000, 1300"
    })
    void the_last_tile_fills_when_the_front_arrives(
            double land, double cavity, double seconds, double side, double shift) throws IOException {
        JsonNode result = run(land, cavity, seconds, side, shift, 3, "off");
        assertThat(last(result) / seconds).isCloseTo(1, within(0.05));
    }

    /**
     * Tiles of an eighth of a period to less than one cut such a grating unevenly. Every run on them marks its last fill; what it
     * tells of the error covers the truth but for one case (tiles of 10 um, beside: 0.7 s told of 1.6 s).
     */
    @Test
    void runs_on_tiles_near_the_width_of_their_features_mark_their_fill_times_and_mostly_cover_the_truth()
            throws IOException {
        double[][] cases = {
            {10, 30, 2.72065857, 5, 1.67},
            {10, 30, 2.72065857, 10, 0},
            {10, 30, 2.72065857, 10, 3.33},
            {10, 30, 2.72065857, 20, 6.67},
            {200, 200, 482.496922, 100, 33.3},
            {200, 200, 482.496922, 200, 66.7}
        };
        int covered = 0;
        for (double[] c : cases) {
            JsonNode result = run(c[0], c[1], c[2], c[3], c[4], 8, "on");
            double told = Double.NaN;
            for (JsonNode part : result.get("analyses")) {
                for (JsonNode figure : part.get("figures")) {
                    if (figure.get("id").asText().equals("fill.time.last")) {
                        told = figure.get("value").asDouble();
                    }
                }
            }
            assertThat(result.get("warnings").toString()).contains("resolution.moved");
            // The side it proposes makes this error, going with the side, a tenth of the time or less, and it tells the
            // cost.
            Matcher proposed = Pattern.compile(
                            "a side of (\\S+) um \\(tiles.side\\) tells them to 10 %: (\\d+) tiles, about (\\d+) times the work")
                    .matcher(result.get("warnings").toString());
            assertThat(proposed.find()).isTrue();
            double narrower = c[3] / Double.parseDouble(proposed.group(1));
            assertThat(told / narrower).isLessThan(0.1 * last(result) * 1.01);
            assertThat(Double.parseDouble(proposed.group(3)))
                    .isCloseTo(narrower * narrower, within(0.5 + 0.01 * narrower * narrower));
            covered += told > 0.9 * Math.abs(last(result) - c[2]) ? 1 : 0;
        }
        assertThat(covered).isGreaterThanOrEqualTo(5);
    }

    private static double last(JsonNode result) {
        return result.at("/fields/fill.time/max").asDouble();
    }

    private JsonNode run(
            double land, double cavity, double seconds, double side, double shift, int tiles, String resolution)
            throws IOException {
        double period = land + cavity;
        double width = Math.max(1, Math.ceil(tiles * side / period)) * period;
        while ((Math.abs(width / side / 2 - Math.rint(width / side / 2)) > 1e-9 && resolution.equals("on"))
                || Math.abs(width / side - Math.rint(width / side)) > 1e-9) {
            width += period;
        }
        StringBuilder layout = new StringBuilder();
        for (int n = -20; n * period < width; n++) {
            double x0 = n * period + land / 2 + shift;
            double x1 = x0 + cavity;
            if (x1 > 0 && x0 < width) {
                layout.append(String.format(
                        Locale.ROOT,
                        "POLYGON ((%1$f %3$f, %2$f %3$f, %2$f %4$f, %1$f %4$f, %1$f %3$f))%n",
                        x0,
                        x1,
                        -side,
                        (tiles + 1) * side));
            }
        }
        Files.writeString(directory.resolve("layout.wkt"), layout);
        Path job = Files.writeString(
                directory.resolve("job.yaml"),
                String.format(Locale.ROOT, JOB, width, tiles * side, side, resolution, 3 * seconds));
        assertThat(tool.run("run", job, "--no-report", "--replace", "--out", directory.resolve("out")))
                .as(tool.err.toString())
                .isZero();
        return new ObjectMapper()
                .readTree(directory.resolve("out").resolve("result.json").toFile());
    }
}
