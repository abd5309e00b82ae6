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
import java.util.stream.Stream;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A layout that is stepped over the stamp, from the job to results, limits and dummies. */
class ArrayCommandTest {
    private static final String JOB = """
            layout:
              layers:
                - {file: die.wkt, unit: um}
              array:
                columns: 3
                rows: 2
                step: ["200 um", "200 um"]
                die: {min: ["0 um", "0 um"], max: ["200 um", "200 um"]}
                omit: [{column: 3, row: 2}]
                turned: [{column: 2, turn: "180 deg"}]
            tiles: {side: "20 um"}
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
              residual.final@die 2,1: {mean: ">= 1 um"}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @BeforeEach
    void layout() throws IOException {
        StringBuilder wells = new StringBuilder();
        for (int i = 0; i < 8; i++) {
            wells.append(box(20 + 18 * i, 30, 10, 90)).append('\n');
        }
        Files.writeString(directory.resolve("die.wkt"), wells);
        Files.writeString(directory.resolve("marks.wkt"), box(430, 230, 40, 40) + "\n");
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

    private double figure(String id) throws IOException {
        for (JsonNode figure : json("job-results/result.json").get("figures")) {
            if (figure.get("id").asText().equals(id)) {
                return figure.get("value").asDouble();
            }
        }
        throw new AssertionError("no figure " + id);
    }

    @Test
    void every_die_has_a_row_of_its_numbers_and_may_have_limits() throws IOException {
        int code = tool.run("run", job(JOB), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isEqualTo(1); // the limit on one die is meant to break
        assertThat(figure("cavity.area")).isCloseTo(5 * 8 * 900e-6, within(1e-9));
        List<String> rows = Files.readAllLines(directory.resolve("job-results/dies.csv"));
        List<String> columns = List.of(rows.get(0).split(",", -1));
        assertThat(rows.subList(1, rows.size()).stream().map(row -> row.substring(0, 9)))
                .containsExactly("\"die 1,1\"", "\"die 2,1\"", "\"die 3,1\"", "\"die 1,2\"", "\"die 2,2\"");
        // The name holds a comma.
        List<String> second = List.of(("," + rows.get(2).substring(10)).split(",", -1));
        assertThat(second.get(columns.indexOf("turn_deg"))).isEqualTo("180");
        assertThat(Double.parseDouble(second.get(columns.indexOf("on_stamp")))).isEqualTo(1);
        assertThat(Double.parseDouble(second.get(columns.indexOf("cavity.fraction.mean"))))
                .isCloseTo(8 * 900 / 40000.0, within(1e-9));
        double mean = Double.parseDouble(second.get(columns.indexOf("residual.final.mean")));
        JsonNode broken = json("job-results/result.json").at("/findings/0");
        assertThat(broken.get("region").asText()).isEqualTo("die 2,1");
        assertThat(broken.get("found").asDouble()).isCloseTo(mean, within(1e-6));
        assertThat(tool.out.toString()).contains("5 dies: mean residual layer from ", " nm in die ");
    }

    @Test
    void the_example_of_the_docs_is_the_stamp_that_they_describe() throws IOException {
        String page = Files.readString(Path.of("../../docs/layout.md"));
        String drawn = page.split("`stamp\\.geojson`:\n\n```json\n", -1)[1].split("```", -1)[0];
        String array = page.split("## Many dies: an array\n", -1)[1]
                .split("```yaml\n", -1)[1]
                .split("```", -1)[0];
        Files.writeString(directory.resolve("stamp.geojson"), drawn);
        int code = tool.run("run", job(array + "stamp: {depth: \"150 nm\"}\n"), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(code).isZero();
        List<String> rows = Files.readAllLines(directory.resolve("job-results/dies.csv"));
        assertThat(rows)
                .hasSize(1 + 78)
                .noneMatch(row -> row.startsWith("\"die 1,1\"") || row.startsWith("\"die 10,8\""));
        int turn = List.of(rows.get(0).split(",", -1)).indexOf("turn_deg") + 1; // a die's name holds a comma
        assertThat(rows.stream().filter(row -> row.split(",", -1)[turn].equals("180")))
                .hasSize(11);
        double texture = 30 * 20 / 2.0;
        double cavity = 40 * 20 - 10 * 10 + 10 * 4 * 4 + texture;
        assertThat(figure("cavity.area")).isCloseTo(78 * cavity * 1e-6, within(1e-9));
        // From the first to the last rectangle, and the same tiles in every die.
        JsonNode tiles = json("job-results/result.json").get("grid");
        double side = tiles.get("side_um").asDouble();
        assertThat(150 / side).isCloseTo(Math.rint(150 / side), within(1e-6));
        assertThat(100 / side).isCloseTo(Math.rint(100 / side), within(1e-6));
    }

    @Test
    void what_is_not_stepped_stands_once() throws IOException {
        String text = JOB.replace(
                "    - {file: die.wkt, unit: um}",
                "    - {file: die.wkt, unit: um}\n    - {file: marks.wkt, unit: um, stepped: off}");
        tool.run("run", job(text), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(figure("cavity.area")).isCloseTo((5 * 8 * 900 + 1600) * 1e-6, within(1e-9));
    }

    @Test
    void dummies_are_one_layer_that_stands_once_and_keeps_off_every_die() throws IOException {
        tool.run("dummy", job(JOB), "--no-report");

        assertThat(tool.err.toString()).isEmpty();
        assertThat(directory.resolve("job-results-dummies/merged.geojson.gz")).doesNotExist();
        double beyondFirst = 0;
        for (JsonNode feature : json("job-results-dummies/dummies.geojson").get("features")) {
            double x = feature.at("/geometry/coordinates/0/0/0").asDouble();
            double y = feature.at("/geometry/coordinates/0/0/1").asDouble();
            beyondFirst += x > 200 ? 1 : 0;
            for (int column = 0; column < 3; column++) {
                // The die is as wide as it is high; turned by half its wells lie above its middle.
                double low = column == 1 ? 200 - 120 : 30;
                for (int row = 0; row < (column == 2 ? 1 : 2); row++) {
                    boolean amongWells = x > column * 200 + 23
                            && x < column * 200 + 153
                            && column != 1
                            && y > row * 200 + low
                            && y < row * 200 + low + 90;
                    boolean on = amongWells && (x - column * 200 - 20) % 18 < 10;
                    assertThat(on).as("a dummy on a well at %s, %s", x, y).isFalse();
                }
            }
        }
        assertThat(beyondFirst).isGreaterThan(10);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "columns: 3 | columns: 3.5 | layout.array: columns must be a whole number",
                "rows: 2 | rows: 0 | layout.array.rows is 0",
                "step: [\"200 um\", \"200 um\"] | steps: 2 | has no key \"steps\"",
                "step: [\"200 um\", \"200 um\"] | step: [\"-200 um\", \"200 um\"] | both steps must be longer than nothing",
                "step: [\"200 um\", \"200 um\"] | step: [\"150 um\", \"200 um\"] | die 1,1 and die 2,1 overlap by 50",
                "column: 3, row: 2 | column: 4, row: 2 | layout.array.column is 4",
                "{column: 3, row: 2} | {row: 1}, {row: 2} | no die is left",
                "turn: \"180 deg\" | turn: \"45 deg\" | layout.array: a drawing is turned by quarter turns only",
                "die.wkt, unit: um | die.wkt, unit: um, stepped: off | nothing to step",
                "die 2,1 | die 3,2 | limit on residual.final@die 3,2 is on a region that the stamp has not",
            })
    void a_mistake_in_an_array_is_told_with_its_line(String right, String wrong, String message) throws IOException {
        assertThat(JOB).contains(right);
        String text = JOB.replace(right, wrong);
        int code = tool.run("run", job(text), "--no-report");

        assertThat(code).isEqualTo(3);
        assertThat(tool.err.toString()).contains(message).containsPattern("job\\.yaml:[0-9]+");
        assertThat(Stream.of(tool.err.toString().split("\n", -1)).filter(line -> line.contains("job.yaml:")))
                .hasSize(1);
    }
}
