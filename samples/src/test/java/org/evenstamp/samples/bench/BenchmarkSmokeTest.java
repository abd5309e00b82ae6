package org.evenstamp.samples.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.samples.bench.BenchmarkMain.Benchmark;
import org.evenstamp.samples.generate.RandomLayout;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Every benchmark on a layout so small that it is a matter of a second: that it runs, not how fast. */
class BenchmarkSmokeTest {
    private static final String JAVA =
            Path.of(System.getProperty("java.home"), "bin", "java").toString();

    private static String json(Figures figures) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        figures.write(bytes);
        return bytes.toString(StandardCharsets.UTF_8);
    }

    @Test
    void edge_sums_and_intersections_agree_to_a_billionth_of_a_tile() throws IOException {
        Figures figures = new Figures();
        new CoverageComparison(new RandomLayout(4, 600, 22, 1e-3, 1e-3), 16, 1).run(figures);
        assertThat(figures.value("largest difference, tile areas")).isLessThan(1e-9);
        assertThat(json(figures)).contains("\"coverage by edge sums\"", "\"intersections / edge sums\"", "\">= 20\"");
    }

    @Test
    void scans_count_what_is_in_the_file(@TempDir Path folder) throws IOException {
        RandomLayout layout = new RandomLayout(4, 50, 10, 1e-3, 1e-3);
        long[] vertices = new long[1];
        layout.draw(polygon -> vertices[0] += polygon.vertices() + 1); // the closing one is written
        Path geojson = folder.resolve("random.geojson");
        Path wkt = folder.resolve("random.wkt");
        for (Path file : List.of(geojson, wkt)) {
            try (LayoutWriter writer = LayoutWriter.create(file)) {
                layout.draw(writer);
            }
        }
        assertThat(ScanMain.scan(ScanMain.Scan.NUMBERS, geojson)).isEqualTo(2 * vertices[0]);
        assertThat(ScanMain.scan(ScanMain.Scan.TOKENS, geojson)).isGreaterThan(4 * vertices[0]);
        assertThat(ScanMain.scan(ScanMain.Scan.BYTES, wkt)).isEqualTo(50);
        assertThat(ScanMain.scan(ScanMain.Scan.LINES, wkt)).isEqualTo(50);
    }

    @Test
    void what_a_core_can_do_is_told_in_positive_numbers() {
        assertThat(Yardstick.measure(16, 1000, 1_000_000))
                .matches("\\{(\"[A-Za-z_]+\": [0-9]+(\\.[0-9]+)?(, )?)+}")
                .contains("triad_GB_per_s", "\"tiles\": 16", "library_transforms_ms", "filter_ms");
    }

    @Test
    void a_process_is_timed_to_its_end() throws IOException {
        ProcessRun run = ProcessRun.of(List.of(JAVA, "-version"), Map.of());
        assertThat(run.wallSeconds()).isPositive();
        assertThat(run.cpuSeconds()).isNotNegative();
        run.peakMebibytes().ifPresent(peak -> assertThat(peak).isBetween(5.0, 5000.0));
    }

    @Test
    void a_process_that_fails_is_not_a_measurement() {
        assertThatIllegalStateException()
                .isThrownBy(() -> ProcessRun.of(List.of(JAVA, "--no-such-option"), Map.of()))
                .withMessageContaining("no-such-option");
    }

    @Test
    void a_spread_is_the_middle_and_the_ends() {
        assertThat(Spread.of(3, 1, 2)).isEqualTo(new Spread(2, 1, 3, 3));
        assertThat(Spread.of(4, 1, 2, 3).median()).isEqualTo(2.5, within(0.0));
        assertThatIllegalArgumentException().isThrownBy(Spread::of);
    }

    @ParameterizedTest
    @ValueSource(strings = {"--runs", "--runs 0", "--polygons many", "fly", "--vertices 2", "--fast"})
    void options_that_make_no_sense_are_refused(String line) {
        assertThatIllegalArgumentException().isThrownBy(() -> BenchmarkOptions.parse(line.split(" ", -1)));
    }

    @Test
    void a_session_describes_the_machine_and_writes_json(@TempDir Path folder) throws IOException {
        Path out = folder.resolve("figures.json");
        BenchmarkMain.main(new String[] {
            "--polygons", "300", "--runs", "1", "--layouts", folder.toString(), "--out", out.toString(), "coverage"
        });
        assertThat(Files.readString(out)).contains("\"processors\"", "\"java\"", "\"coverage_polygons\" : \"300\"");
    }

    @Test
    @Tag("slow") // a dozen Java runtimes start
    void the_program_is_measured_beside_its_yardsticks(@TempDir Path folder) throws IOException {
        List<String> evenstamp = List.of(JAVA, "-cp", System.getProperty("java.class.path"), "org.evenstamp.tool.Main");
        List<Benchmark> benchmarks = List.of(Benchmark.READ, Benchmark.SCALE, Benchmark.START);
        BenchmarkOptions options = new BenchmarkOptions(300, 22, 1, evenstamp, folder, null, false, benchmarks);

        Figures figures = BenchmarkMain.run(options);

        assertThat(figures.value("measure geojson / scan geojson tokens")).isPositive();
        assertThat(figures.value("measure wkt / scan wkt lines")).isPositive();
        assertThat(figures.value("ten times the polygons / tiles of 100 um")).isPositive();
        assertThat(figures.value("--help, seconds")).isPositive();
    }
}
