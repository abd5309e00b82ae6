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
import java.util.stream.Stream;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.tool.command.Evenstamp;
import org.evenstamp.tool.command.ToolContext;
import org.evenstamp.tool.console.Console;
import org.evenstamp.tool.exit.Interruption;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The sample's film as measured points and as drops, on coarser tiles than its job states. */
@Tag("slow")
class MeasuredFilmTest {
    private static final Path SAMPLES = Path.of("water-sensor");

    @TempDir
    Path directory;

    private final StringWriter err = new StringWriter();
    private String job = "";

    @BeforeEach
    void copySample() throws IOException {
        Files.copy(SAMPLES.resolve("layout.geojson.gz"), directory.resolve("layout.geojson.gz"));
        Files.copy(SAMPLES.resolve("measured-film.csv"), directory.resolve("measured-film.csv"));
        String text = Files.readString(SAMPLES.resolve("measured-film.yaml"));
        job = text.replace("side: \"400 um\"", "structure: estimated\n  side: \"800 um\"");
        assertThat(job).isNotEqualTo(text);
    }

    private int run(String verb, Path file, String out) {
        Progress progress = new Progress();
        Console console = new Console(new PrintWriter(new StringWriter()), new PrintWriter(err), false, false);
        return Evenstamp.run(
                new ToolContext(console, "test", progress, new Interruption(progress), AnalysisFinder::find),
                Stream.of(verb, file, "--no-report", "--out", directory.resolve(out))
                        .map(Object::toString)
                        .toArray(String[]::new));
    }

    private JsonNode result(String out) throws IOException {
        return new ObjectMapper()
                .readTree(directory.resolve(out).resolve("result.json").toFile());
    }

    private static double statistic(JsonNode result, String field, String measure) {
        return result.get("fields").get(field).get(measure).asDouble();
    }

    @Test
    void the_measured_film_keeps_its_limits_between_the_points_values() throws IOException {
        int code = run("run", Files.writeString(directory.resolve("job.yaml"), job), "results");

        assertThat(err.toString()).isEmpty();
        assertThat(code).isZero();
        JsonNode result = result("results");
        assertThat(statistic(result, "film.coated", "min")).isBetween(242.8, 246.0);
        assertThat(statistic(result, "film.coated", "max")).isBetween(256.0, 261.7);
        assertThat(statistic(result, "film.coated", "mean")).isCloseTo(trapezium(), within(0.1));
    }

    /** Mean of the bilinear surface through the file's points: weights 1, 2, 2, 2, 1 along each side. */
    private double trapezium() throws IOException {
        double sum = 0;
        for (String line : Files.readAllLines(directory.resolve("measured-film.csv"))) {
            if (!line.startsWith("#") && !line.startsWith("x_mm")) {
                String[] cells = line.split(",", -1);
                double x = Double.parseDouble(cells[0]);
                double y = Double.parseDouble(cells[1]);
                sum += Double.parseDouble(cells[2]) * (Math.abs(x) == 6 ? 1 : 2) * (Math.abs(y) == 6 ? 1 : 2);
            }
        }
        return sum / 64;
    }

    /**
     * A tile of 0.64 mm² takes 117 to 291 drops of 0.6 pL for 110 to 273 nm; a drop is 0.94 nm on it. Drops 47 um apart that
     * meet drops 74 um apart over a tile's side meet a quarter of the difference beyond it, at 6.7 um, and carry 6.7/53.7 of
     * their volume there: a tile that is the fullest on all sides loses 2.9 % of its film to the neighbours, and two drops by
     * rounding.
     */
    @Test
    void drops_placed_for_the_layout_make_the_film_they_were_placed_for() throws IOException {
        String dispensed = job + "\ndrops: {residual: \"100 nm\", volume: \"0.6 pL\", pitch: \"20 um\"}\n";
        Path asked = Files.writeString(directory.resolve("asked.yaml"), dispensed);
        assertThat(run("drops", asked, "drops")).as(err.toString()).isZero();
        Path back = Files.writeString(
                directory.resolve("back.yaml"),
                dispensed
                        .replace("thickness-map: measured-film.csv", "drop-map: drops/drops.csv")
                        .replaceAll("(?m)^  film.coated:.*$", ""));
        assertThat(run("run", back, "back")).as(err.toString()).isZero();

        JsonNode need = result("drops");
        JsonNode film = result("back");
        double halfDrop = 0.5 * 0.6e-15 / 144e-6 * 1e9;
        assertThat(statistic(film, "film.coated", "mean"))
                .isCloseTo(statistic(need, "drop.need", "mean"), within(halfDrop + 1e-3));
        assertThat(statistic(film, "film.coated", "min"))
                .isCloseTo(statistic(need, "drop.need", "min"), within(6 * 0.94));
        assertThat(statistic(film, "film.coated", "max"))
                .isCloseTo(statistic(need, "drop.need", "max"), within(0.029 * 273 + 2 * 0.94));
    }
}
