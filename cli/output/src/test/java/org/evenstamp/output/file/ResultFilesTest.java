package org.evenstamp.output.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TimeZone;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.kit.Golden;
import org.evenstamp.shared.unit.Unit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ResultFilesTest {
    @TempDir
    Path directory;

    @Test
    void the_result_document_is_as_published() throws IOException {
        String json = ResultJson.write(SampleResults.results());

        Golden.check("src/test/resources/golden/result.json", json);
        assertThat(new ObjectMapper().readTree(json).get("findings")).hasSize(2);
    }

    @Test
    void tiles_are_rows_with_empty_cells_where_nothing_is_known() throws IOException {
        Path file = directory.resolve("tiles.csv");

        TilesCsv.write(file, SampleResults.fields());

        assertThat(Files.readString(file)).isEqualTo("""
                        column,row,x_um,y_um,residual.local,fill.time
                        0,0,-100.0,50.0,100.0,0.0
                        1,0,0.0,50.0,200.0,1e-7
                        2,0,100.0,50.0,300.0,
                        0,1,-100.0,150.0,400.0,1234567.89
                        1,1,0.0,150.0,500.0,-2.0
                        2,1,100.0,150.0,33.3333333,30.0
                        """);
    }

    @Test
    void arrays_read_back_with_the_lowest_row_first() throws IOException {
        Path file = directory.resolve("fields.npz");

        FieldsNpz.write(file, SampleResults.fields());

        Map<String, NumpyArchive.Array> arrays = NumpyArchive.read(file);
        assertThat(arrays).containsOnlyKeys("residual.local.npy", "fill.time.npy", "fill.time.known.npy");
        assertThat(arrays)
                .containsEntry(
                        "residual.local.npy",
                        new NumpyArchive.Array(
                                "<f8", List.of(2, 3), shown("residual.local", 1e-7, 2e-7, 3e-7, 4e-7, 5e-7, 1e-7 / 3)))
                .containsEntry(
                        "fill.time.npy",
                        new NumpyArchive.Array(
                                "<f8", List.of(2, 3), shown("fill.time", 0, 1e-7, 0, 1234567.891234, -2, 30)))
                .containsEntry(
                        "fill.time.known.npy",
                        new NumpyArchive.Array("|b1", List.of(2, 3), List.of(1.0, 1.0, 0.0, 1.0, 1.0, 1.0)));
    }

    @Test
    void snapshots_are_arrays_with_an_axis_of_time() throws IOException {
        Path file = directory.resolve("snapshots.npz");

        FieldsNpz.writeSnapshots(file, SampleResults.results().snapshots());

        assertThat(NumpyArchive.read(file))
                .containsExactly(
                        Map.entry(
                                "fill.time.npy",
                                new NumpyArchive.Array(
                                        "<f8",
                                        List.of(2, 2, 3),
                                        shown("fill.time", 0, 0, 0, 1, 0, 2, 0, 1e-7, 0, 1234567.891234, -2, 30))),
                        Map.entry(
                                "fill.time.known.npy",
                                new NumpyArchive.Array(
                                        "|b1",
                                        List.of(2, 2, 3),
                                        List.of(1.0, 0.0, 0.0, 1.0, 0.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0))),
                        Map.entry(
                                "fill.time.seconds.npy",
                                new NumpyArchive.Array("<f8", List.of(2), List.of(0.5, 20.0))));
    }

    /** Returns SI values in a field's display unit. */
    private static List<Double> shown(String field, double... si) {
        Unit unit = SampleResults.fields().find(field).orElseThrow().name().unit();
        return Arrays.stream(si).map(unit::fromSi).boxed().toList();
    }

    @Test
    void arrays_have_the_same_bytes_in_every_time_zone() throws IOException {
        TimeZone before = TimeZone.getDefault();
        try {
            TimeZone.setDefault(TimeZone.getTimeZone("GMT-11"));
            FieldsNpz.write(directory.resolve("a"), SampleResults.fields());
            TimeZone.setDefault(TimeZone.getTimeZone("GMT+13"));
            FieldsNpz.write(directory.resolve("b"), SampleResults.fields());
        } finally {
            TimeZone.setDefault(before);
        }

        assertThat(directory.resolve("a")).hasSameBinaryContentAs(directory.resolve("b"));
    }

    @Test
    void curves_are_columns_with_units() {
        assertThat(CurvesCsv.write(
                        SampleResults.results().analyses().get(0).curves().get(0)))
                .isEqualTo("\"time (s)\",\"mean \"\"h\"\" (nm)\"\n0,200\n0.5,100\n");
    }

    @Test
    void a_directory_holds_everything_and_is_the_same_for_any_number_of_threads() throws IOException {
        for (int threads : new int[] {1, 3}) {
            try (ResultsDirectory results = ResultsDirectory.open(directory.resolve("r" + threads), false)) {
                ResultsWriter.write(SampleResults.results(), RunRecord.start(threads), results, new Progress());
                results.publish();
            }
        }

        for (String name : new String[] {
            "result.json",
            "findings.junit.xml",
            "findings.sarif",
            "tiles.csv",
            "fields.json",
            "fields.npz",
            "snapshots.npz",
            "curves/balance.history.csv",
            ".evenstamp-files",
            "maps/residual.local.png",
            "maps/fill.time.png"
        }) {
            assertThat(directory.resolve("r1").resolve(name))
                    .hasSameBinaryContentAs(directory.resolve("r3").resolve(name));
        }
        assertThat(directory.resolve("r3").resolve("run.json")).content().contains("\"threads\": 3");
        try (var files = Files.walk(directory.resolve("r1"))) {
            assertThat(files.filter(Files::isRegularFile)).hasSize(12);
        }
    }

    @Test
    void statistics_look_at_known_tiles_only() {
        FieldStatistics numbers =
                FieldStatistics.of(SampleResults.fields().find("fill.time").orElseThrow());

        assertThat(numbers.known()).isEqualTo(5);
        assertThat(numbers.min()).isEqualTo(-2);
        assertThat(numbers.max()).isEqualTo(1234567.891234);
        assertThat(numbers.mean()).isCloseTo((1234567.891234 + 28 + 1e-7) / 5, within(1e-6));
    }
}
