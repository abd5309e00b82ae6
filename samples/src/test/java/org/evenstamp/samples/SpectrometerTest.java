package org.evenstamp.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.StreamSupport;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.samples.generate.SpectrometerLayout;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The sample in layers, from its files to the dummies in the regions that matter. */
class SpectrometerTest {
    private static final Path SAMPLE = Path.of("spectrometer");

    @TempDir
    Path directory;

    @Test
    void the_shipped_files_are_what_the_generator_draws() throws IOException {
        for (Map.Entry<String, String> file : SpectrometerLayout.files().entrySet()) {
            Path shipped = SAMPLE.resolve(file.getKey());
            if (Boolean.getBoolean("golden.update")) {
                Files.writeString(shipped, file.getValue());
            }
            assertThat(Files.readString(shipped)).isEqualTo(file.getValue());
        }
    }

    @Test
    void the_page_on_layouts_shows_the_layers_of_the_job_as_they_stand_there() throws IOException {
        String job = Files.readString(SAMPLE.resolve("job.yaml"));
        String layout =
                job.substring(job.indexOf("layout:"), job.indexOf("tiles:")).strip();

        assertThat(Files.readString(Path.of("../docs/layout.md"))).contains("```yaml\n" + layout + "\n```");
    }

    private int evenstamp(String verb) {
        StringWriter err = new StringWriter();
        Progress progress = new Progress();
        Console console = new Console(new PrintWriter(new StringWriter()), new PrintWriter(err), false, false);
        int code = Evenstamp.run(
                new ToolContext(console, "test", progress, new Interruption(progress), AnalysisFinder::find),
                verb,
                SAMPLE.resolve("job.yaml").toString(),
                "--no-report",
                "--out",
                directory.resolve("results").toString());
        assertThat(err.toString()).isEmpty();
        return code;
    }

    private JsonNode json(String file) throws IOException {
        return new ObjectMapper()
                .readTree(directory.resolve("results").resolve(file).toFile());
    }

    private static JsonNode named(JsonNode list, String key, String name) {
        return StreamSupport.stream(list.spliterator(), false)
                .filter(item -> item.get(key).asText().equals(name))
                .findFirst()
                .orElseThrow();
    }

    @Test
    @Tag("slow") // solves the film
    void a_run_measures_every_layer_and_the_optics_exceed_their_limit() throws IOException {
        assertThat(evenstamp("run")).isEqualTo(1);

        JsonNode result = json("result.json");
        // By hand, in mm^2: half of three gratings of 3 mm, twelve lines, three guides of 60 um, 24 wells.
        double gratings = 3 * 9 / 2.0;
        double slit = 12 * 0.005 * 3;
        double guides = 0.06 * (10.83 + 8.77 + 9.33 + 3.77 + 7.83 + 0.37);
        double wells = 24 * 0.4 * 0.4;
        assertThat(named(result.get("figures"), "id", "cavity.area")
                        .get("value")
                        .asDouble())
                .isCloseTo(gratings + slit + guides + wells, within(1e-6));
        assertThat(named(result.get("figures"), "id", "cavity.volume.total")
                        .get("value")
                        .asDouble())
                .isCloseTo(200 * (gratings + slit) + 350 * guides + 600 * wells, within(1e-4));
        assertThat(named(result.get("named_regions"), "name", "guides")
                        .get("area_mm2")
                        .asDouble())
                .isCloseTo(guides, within(1e-6));
        assertThat(named(result.get("named_regions"), "name", "optics")
                        .get("area_mm2")
                        .asDouble())
                .isCloseTo(13.4 * 3.4 + 0.7 * 3.4, within(1e-6));
        assertThat(List.of(
                        result.get("findings").size(),
                        result.get("findings").get(0).get("region").asText()))
                .isEqualTo(List.of(1, "optics"));
    }

    @Test
    @Tag("slow") // solves the film several times
    void dummies_mend_the_limit_of_the_optics_and_keep_out_of_the_window() throws IOException {
        assertThat(evenstamp("dummy")).isZero();

        assertThat(json("comparison.json").get("over").asText()).isEqualTo("wells, optics");
        assertThat(json("comparison.json").get("limits").get(0).asText()).contains("kept now");
        for (JsonNode feature : json("dummies.geojson").get("features")) {
            for (JsonNode point : feature.at("/geometry/coordinates/0")) {
                double x = point.get(0).asDouble();
                double y = point.get(1).asDouble();
                assertThat(x > 12500 && x < 18500 && y > 1500 && y < 8500)
                        .as("%f, %f", x, y)
                        .isFalse();
            }
        }
    }
}
