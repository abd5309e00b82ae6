package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.evenstamp.analysis.limit.Ranking;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.output.file.ResultsWriter;
import org.evenstamp.output.file.RunRecord;
import org.evenstamp.output.file.SampleResults;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The Python of docs/readings.md as it stands there, on made-up results; left out where there is no Python or no NumPy. */
class ReadingsTest {
    private static final Path RESULTS = Path.of("samples/water-sensor/results");

    @TempDir
    Path directory;

    @BeforeEach
    void results() {
        SplittableRandom random = new SplittableRandom(1);
        double[] residual = random.doubles(6, 50e-9, 250e-9).toArray();
        residual[4] = 20e-9;
        FieldSet fields = FieldSet.empty(SampleResults.GRID)
                .with(List.of(
                        Field.of(FieldName.of("residual.final", "nm", "residual layer"), SampleResults.GRID, residual),
                        Field.of(FieldName.of("cavity.fraction", "1", "fill factor"), SampleResults.GRID, new double[] {
                            0, 0.5, 1, 0.5, 1, 0.25
                        }),
                        Field.of(FieldName.of("release.tear", "1", "tear"), SampleResults.GRID, new double[] {
                            1, Double.NaN, 1, 1, Double.NaN, 1
                        })));
        Results sample = SampleResults.results();
        try (ResultsDirectory writing = ResultsDirectory.open(directory.resolve(RESULTS), false)) {
            ResultsWriter.write(
                    new Results(
                            sample.provenance(),
                            sample.layout(),
                            fields,
                            List.of(),
                            Map.of(),
                            new Results.Verdict(List.of(), List.of(), List.of(), new Ranking(0, List.of())),
                            List.of()),
                    RunRecord.start(1),
                    writing,
                    new Progress());
            writing.publish();
        }
    }

    /** Returns the Python blocks of the page. */
    private static List<String> blocks() throws IOException {
        Matcher blocks =
                Pattern.compile("(?s)```python\n(.*?)```").matcher(Files.readString(Path.of("../../docs/readings.md")));
        return blocks.results().map(block -> block.group(1)).toList();
    }

    private String python(String program) throws IOException, InterruptedException {
        Process process = new ProcessBuilder("python3", "-")
                .directory(directory.toFile())
                .redirectErrorStream(true)
                .start();
        try (var in = process.getOutputStream()) {
            in.write(program.getBytes(StandardCharsets.UTF_8));
        }
        String told = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(1, TimeUnit.MINUTES)).isTrue();
        assertThat(process.exitValue()).as(told).isZero();
        return told;
    }

    private static boolean runs(String... command) {
        try {
            return new ProcessBuilder(command).redirectErrorStream(true).start().waitFor() == 0;
        } catch (IOException | InterruptedException e) {
            return false;
        }
    }

    @Test
    void arrays_are_read_with_numpy() throws Exception {
        assumeTrue(runs("python3", "-c", "import numpy"), "no NumPy");
        Path reader = Path.of("samples/python/evenstamp_results.py");
        Files.createDirectories(directory.resolve(reader).getParent());
        Files.copy(Path.of("../..").resolve(reader), directory.resolve(reader));

        assertThat(python(blocks().get(0)))
                .contains("sample - within limits")
                .contains("residual layer 20 to ")
                .contains("thinnest at x 0 um, y 150 um")
                .contains("fill factor from 0.8:     2 tiles")
                .containsPattern("difference to tiles.csv: [0-9.]+e-0[789] nm")
                .contains("release.tear is known in 4 of 6 tiles");
    }

    @Test
    void the_table_is_read_without_it() throws Exception {
        assumeTrue(runs("python3", "--version"), "no Python");

        assertThat(python(blocks().get(1))).containsPattern("[1-6] of 6 tiles below 100 nm");
    }
}
