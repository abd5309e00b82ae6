package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Objects;
import org.evenstamp.output.file.NumpyArchive;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Sweeps, fits to readings and comparisons with them, from polygons to what is printed and written. */
class UncertaintyCommandTest {
    private static final String JOB = """
            layout: {file: layout.geojson, unit: um, drawn: cavities, outline: {min: ["0 um", "0 um"], max: ["400 um", "400 um"]}}
            tiles: {side: "50 um"}
            stamp: {depth: "100 nm"}
            film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
            process: {pressure: "5 MPa", hold: "20 s"}
            limits: {residual.local: {each: ">= 200 nm"}}
            """;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    @BeforeEach
    void layout() throws IOException {
        StringBuilder text = new StringBuilder();
        for (int x = 0; x < 400; x += 50) {
            int width = x < 200 ? 20 : 10;
            text.append(String.format(
                    Locale.ROOT,
                    "{\"type\": \"Polygon\", \"coordinates\": [[[%d, 0], [%d, 0], [%d, 400], [%d, 400], [%d, 0]]]}%n",
                    x + 10,
                    x + 10 + width,
                    x + 10 + width,
                    x + 10,
                    x + 10));
        }
        Files.writeString(directory.resolve("layout.geojson"), text);
    }

    private Path job(String more) throws IOException {
        return Files.writeString(directory.resolve("job.yaml"), JOB + more);
    }

    private static JsonNode json(Path file) throws IOException {
        return new ObjectMapper().readTree(file.toFile());
    }

    @Test
    void without_the_part_for_clusters_one_problem_says_where_it_is() throws IOException {
        Path job = job("""
                sweep: {samples: 16, vary: [{key: film.thickness, from: "230 nm", to: "250 nm"}]}
                """);

        int code = tool.run("sweep", job, "--engine", "flink://127.0.0.1:8081", "--store", directory.resolve("store"));

        assertThat(code).isEqualTo(3);
        assertThat(tool.err.toString())
                .contains("the part of evenstamp that runs work on a cluster is not here")
                .contains("docs/cluster.md");
        assertThat(tool.err.toString().lines()).hasSize(1);
    }

    /** Cavities hold 40 and 20 nm: the fullest tiles are left with the film less 40 nm, so 240 nm of film keep the limit. */
    @Test
    void a_grid_of_two_keys_draws_its_window_and_says_what_closes_it() throws IOException {
        Path job = job("""
                sweep:
                  design: grid
                  keep: [residual.local]
                  vary:
                    - {key: film.thickness, values: ["230 nm", "240 nm", "250 nm"]}
                    - {key: process.pressure, values: ["4 MPa", "5 MPa"]}
                """);

        assertThat(tool.run("sweep", job, "--threads", "2")).isZero(); // a grid goes where limits break

        assertThat(tool.out.toString())
                .contains("within limits in 66.7 % of the 6 runs")
                .contains("low film.thickness: closed by residual.local each >= 200 nm")
                .contains("high film.thickness: open to the rim");
        Path found = directory.resolve("job-sweep");
        assertThat(found.resolve("window.png")).isNotEmptyFile();
        assertThat(found.resolve("maps/residual.local.mean.png")).isNotEmptyFile();
        assertThat(Files.readString(found.resolve("points.csv")).lines()).hasSize(7);
        assertThat(json(found.resolve("sweep.json"))
                        .at("/limits/0/chance_out/share")
                        .asDouble())
                .isCloseTo(1 / 3.0, within(1e-9));
    }

    @Test
    void a_chance_that_is_allowed_decides_the_exit_code() throws IOException {
        String sweep = """
                sweep:
                  samples: 64
                  chance: "%s"
                  vary:
                    - {key: film.thickness, mean: "245 nm", deviation: "3 nm"}
                """;
        // 240 nm is 1.667 deviations below the mean: 4.8 % of the runs are out.
        assertThat(tool.run("sweep", job(sweep.formatted("10 %")), "--quiet")).isZero();
        assertThat(tool.run("sweep", job(sweep.formatted("1 %")), "--quiet")).isEqualTo(1);
    }

    @Test
    void the_same_bytes_after_a_second_call_and_in_another_directory() throws IOException {
        Path job = job("sweep: {samples: 4, vary: [{key: film.viscosity, median: 1e4 Pa s, factor: 3}]}\n");
        tool.run("sweep", job, "--quiet");
        byte[] first = Files.readAllBytes(directory.resolve("job-sweep/points.csv"));
        tool.run("sweep", job, "--quiet");

        assertThat(Files.readAllBytes(directory.resolve("job-sweep/points.csv")))
                .isEqualTo(first);
        tool.run("sweep", job, "--quiet", "--threads", "3", "--out", directory.resolve("other"));
        assertThat(Files.readAllBytes(directory.resolve("other/points.csv"))).isEqualTo(first);
    }

    @Test
    void what_a_sweep_cannot_write_is_told_with_its_place_and_the_points_stay() throws IOException {
        Path job = job("sweep: {samples: 2, vary: [{key: film.thickness, mean: \"250 nm\", deviation: \"2 nm\"}]}\n");
        Path out = directory.resolve("swept");
        Path inTheWay = Files.createDirectories(out.resolve("sweep.json.partial"));
        assertThat(tool.run("sweep", job, "--quiet", "--out", out)).isEqualTo(3);
        assertThat(tool.err.toString())
                .contains(out.toString(), "cannot be written")
                .doesNotContain("defect");

        Files.delete(inTheWay);
        TriedTool again = new TriedTool();
        assertThat(again.run("sweep", job, "--quiet", "--out", out)).isLessThan(2);
        assertThat(json(out.resolve("sweep.json")).isObject()).isTrue();
    }

    @Test
    void a_job_without_a_section_to_sweep_says_so() throws IOException {
        assertThat(tool.run("sweep", job(""))).isEqualTo(3);
        assertThat(tool.err.toString()).contains("does not say what varies").doesNotContain("at org.");
    }

    /** Readings 2 nm above the run everywhere: that much more film, since a film that is pressed alike keeps its volume. */
    @Test
    void readings_tell_the_film_and_are_compared_with_a_run() throws IOException {
        Path job = job("calibrate: {deviation: 1 nm, free: [{key: film.thickness, deviation: 5 nm}]}\n");
        tool.run("run", job.toString(), "--quiet", "--no-report", "--out", directory.resolve("before"));
        var before = NumpyArchive.read(directory.resolve("before/fields.npz"));
        StringBuilder readings = new StringBuilder("x_um,y_um,residual_nm\n");
        var residual = Objects.requireNonNull(before.get("residual.final.npy")).values();
        for (int i = 0; i < residual.size(); i += 5) {
            readings.append(String.format(
                    Locale.ROOT, "%d,%d,%.6f%n", 25 + 50 * (i % 8), 25 + 50 * (i / 8), residual.get(i) + 2));
        }
        Path measured = Files.writeString(directory.resolve("readings.csv"), readings);

        assertThat(tool.run("compare", directory.resolve("before"), measured)).isZero();
        assertThat(tool.out.toString()).contains("residual.final at 13 places: bias +2.000 nm, rms 2.000");

        assertThat(tool.run("calibrate", job, measured, "--out", directory.resolve("fitted")))
                .isZero();
        assertThat(tool.out.toString()).contains("film.thickness  25", "standard error", "measure next");
        JsonNode found = json(directory.resolve("fitted/calibration.json"));
        assertThat(found.at("/values/0/value").asDouble()).isCloseTo(252, within(0.5));
        assertThat(directory.resolve("fitted/calibration.png")).isNotEmptyFile();
        assertThat(Files.readString(directory.resolve("fitted/fitted.json"))).contains("\"deviation\"");
        assertThat(found.at("/runs").asInt()).isLessThanOrEqualTo(8);

        // The fitted job runs where it lies, and a second fit may take the place of the first.
        tool.run(
                "run",
                directory.resolve("fitted/fitted.json"),
                "--quiet",
                "--no-report",
                "--out",
                directory.resolve("after"));
        tool.run("compare", directory.resolve("after"), measured);
        assertThat(tool.out.toString()).containsPattern("residual.final at 13 places: bias [-+]0[.]0");
        assertThat(tool.run("calibrate", job, measured, "--out", directory.resolve("fitted"), "--replace"))
                .isZero();
    }
}
