package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenstamp.output.file.PublishedSchemas;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** UV presses whose lamp was measured place by place. */
class LampMapCommandTest {
    private static final String JOB = """
            layout:
              file: layout.geojson
              outline: {min: ["0 um", "0 um"], max: ["600 um", "600 um"]}
            tiles: {side: "100 um", resolution: off}
            stamp: {depth: "150 nm", transmission: "80 %"}
            film: {material: uv-acrylate, thickness: "250 nm"}
            process:
              kind: uv-press
              temperature: "25 degC"
              pressure: "0.1 MPa"
              hold: "1 s"
              exposure: "60 s"
              LAMP
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();
    private final StringWriter out = tool.out;
    private final StringWriter err = tool.err;

    @BeforeEach
    void layout() throws IOException {
        write("layout.geojson", """
                {"type":"Feature","units":"um","properties":{"repeat":{"columns":30,"rows":60,"dx":20,"dy":10}},
                 "geometry":{"type":"Polygon","coordinates":[[[1,1],[9,1],[9,9],[1,9],[1,1]]]}}
                """);
    }

    /** Whatever a test has written keeps to the published schemas. */
    @AfterEach
    void resultsKeepToTheirSchemas() throws IOException {
        PublishedSchemas.checkUnder(directory);
    }

    private Path write(String name, String text) throws IOException {
        return Files.writeString(directory.resolve(name), text);
    }

    private int run(String name, String lamp) throws IOException {
        return tool.run("run", write(name + ".yaml", JOB.replace("LAMP", lamp)), "--no-report");
    }

    private JsonNode field(String results, String id) throws IOException {
        return new ObjectMapper()
                .readTree(directory.resolve(results + "-results/result.json").toFile())
                .get("fields")
                .get(id);
    }

    /** By hand: 20 to 60 mW/cm² over 600 um; the middles of the outer of six columns get 23.333 and 56.667, of which 80 % make doses of 1120 and 2720 mJ/cm² in 60 s. */
    @Test
    void every_tile_gets_its_dose_from_the_lamp_as_measured_there() throws IOException {
        write(
                "lamp.csv",
                "# invented\nx_um,y_um,irradiance_W/m^2\n0,0,200\n600,0,600\n0,600,200\n600,600,600\n300,300,400\n");

        assertThat(run("map", "lamp-map: lamp.csv")).as(err.toString()).isZero();

        JsonNode dose = field("map", "cure.dose");
        assertThat(dose.get("min").asDouble()).isCloseTo(1120, within(1e-6));
        assertThat(dose.get("max").asDouble()).isCloseTo(2720, within(1e-6));
        JsonNode gel = field("map", "cure.gel.time");
        assertThat(gel.get("max").asDouble() / gel.get("min").asDouble()).isCloseTo(2720 / 1120.0, within(1e-6));
        JsonNode film = film("map");
        assertThat(film.get("end").asDouble())
                .as("until the darkest tile has gelled")
                .isCloseTo(2 + gel.get("max").asDouble(), within(1e-6));
        assertThat(new ObjectMapper()
                        .readTree(directory.resolve("map-results/result.json").toFile())
                        .get("inputs")
                        .findValuesAsText("name"))
                .contains("lamp.csv");
    }

    private JsonNode film(String name) throws IOException {
        var figures = new ObjectMapper().createObjectNode();
        for (JsonNode part : new ObjectMapper()
                .readTree(directory.resolve(name + "-results/result.json").toFile())
                .get("analyses")) {
            if (part.get("id").asText().equals("film")) {
                part.get("figures").forEach(f -> figures.set(f.get("id").asText(), f.get("value")));
            }
        }
        return figures;
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "lamp-map: lamp.csv\\n  irradiance: \"50 mW/cm^2\" | process.lamp-map is given beside process.irradiance",
                "lamp-map: lamp.csv\\n  lamp-falloff: \"5 %\" | process.lamp-map is given beside process.lamp-falloff",
                "lamp-map: none.csv | none.csv",
                "lamp-map: dark.csv | an irradiance of 0 mW/cm^2 is not that of a lamp",
                "lamp-map: small.csv | the points do not cover the stamp: ",
                "irradiance: \"50 mW/cm^2\"\\nlimits: {lamp.irradiance: {each: \">= 1 mW/cm^2\"}} | needs a map of the lamp",
            })
    void what_is_wrong_with_a_lamp_is_one_problem(String lamp, String message) throws IOException {
        write("lamp.csv", "x_um,y_um,irradiance_mW/cm^2\n0,0,20\n600,0,60\n0,600,20\n600,600,60\n");
        write("dark.csv", "x_um,y_um,irradiance_mW/cm^2\n0,0,20\n600,0,0\n0,600,20\n600,600,60\n");
        write("small.csv", "x_um,y_um,irradiance_mW/cm^2\n0,0,20\n100,0,60\n0,100,20\n100,100,60\n");

        assertThat(run("job", lamp.replace("\\n", "\n"))).isEqualTo(3);

        assertThat(err.toString()).contains(message).containsOnlyOnce("error: ");
        assertThat(out.toString()).isEmpty();
    }

    @Test
    void a_lamp_map_without_a_time_of_exposure_is_told_why_it_needs_one() throws IOException {
        write("lamp.csv", "x_um,y_um,irradiance_mW/cm^2\n0,0,20\n600,0,60\n0,600,20\n600,600,60\n");
        Path job = write(
                "job.yaml", JOB.replace("LAMP", "lamp-map: lamp.csv").replace("exposure: \"60 s\"", "ramp: \"1 s\""));

        assertThat(tool.run("check", job)).isEqualTo(3);
        assertThat(err.toString()).contains("job.yaml:13:13: a lamp that was measured needs process.exposure");
    }
}
