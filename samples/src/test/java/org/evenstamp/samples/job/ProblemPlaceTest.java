package org.evenstamp.samples.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.kit.SampleFields;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What laws and analyses complain about is told once, with file, line and key, and in units of the job. */
@SuppressWarnings("StringConcatToTextBlock") // a line is cut and changed where it stands
class ProblemPlaceTest {
    private static final Pipeline ALL = new Pipeline(AnalysisFinder.find(List.of()));

    @TempDir
    Path directory;

    private Path job(String sample, String line, String instead) throws IOException {
        String text = Files.readString(Path.of("water-sensor", sample + ".yaml"));
        assertThat(text).contains(line);
        Files.createFile(directory.resolve("layout.geojson.gz"));
        return Files.writeString(directory.resolve("job.yaml"), text.replace(line, instead));
    }

    private static Problem problem(Path job) {
        InputException refused = catchThrowableOfType(InputException.class, () -> Job.read(job, ALL));
        assertThat(refused).isNotNull();
        assertThat(refused.problems()).hasSize(1);
        return refused.problems().get(0);
    }

    private void holds(Problem problem, String key, String instead, String message) throws IOException {
        Path job = directory.resolve("job.yaml");
        assertThat(problem.key()).isEqualTo(key);
        assertThat(problem.source().file()).isEqualTo(job.toString());
        String line = Files.readAllLines(job).get((int) problem.source().line() - 1);
        assertThat(line.strip())
                .startsWith(instead.lines()
                        .reduce((first, last) -> last)
                        .orElseThrow()
                        .strip());
        assertThat(problem.message()).startsWith(key).contains(message);
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            hot-press | temperature: "60 degC"  | temperature: "200 degC" | release.temperature | it releases at 200 degC and presses at 187 degC
            hot-press | temperature: "60 degC"  | temperature: "473.15 K" | release.temperature | release.temperature (473.15 K): it releases at 200 degC
            hot-press | temperature: "60 degC"  | temperature: "120 degC" | release.temperature | still liquid at the end, at 120 degC
            hot-press | temperature: "187 degC" | temperature: "550 degC" | process.temperature | it reaches 550 degC, where the film breaks down
            hot-press | temperature: "187 degC" | temperature: "90 degC"  | process.temperature | the film does not flow at 90 degC
            hot-press | cooling-rate: "20 K/min"| start-temperature: "200 degC"\\n  cooling-rate: "20 K/min" | process.start-temperature | it starts at 200 degC and presses at 187 degC
            uv-press  | irradiance:             | exposure: "1 ms"\\n  irradiance:  | process.exposure | mJ/cm^2
            uv-press  | transmission: "90 %"    | transmission: "0 %"     | stamp.transmission | no light reaches the film: stamp and substrate are both opaque
            uv-press  | lamp-falloff: "5 %"     | lamp-falloff: "99 %"\\n  lamp-uneven-x: "2 %" | process.lamp-uneven-x | a corner without light
            """)
    void a_contradiction_is_told_once_at_its_line_in_units_of_the_job(
            String sample, String line, String instead, String key, String message) throws IOException {
        String changed = instead.replace("\\n", "\n");
        Problem problem = problem(job(sample, line, changed));

        String told = key.equals("process.start-temperature") || key.equals("process.exposure")
                ? changed.lines().findFirst().orElseThrow()
                : changed;
        holds(problem, key, told, message);
    }

    @Test
    void a_limit_on_what_another_process_gives_is_told_at_its_line() throws IOException {
        Problem problem =
                problem(job("hot-press", "  fill.share:", "  cure.dose: {each: \">= 1 mJ/cm^2\"}\n  fill.share:"));

        assertThat(problem.message())
                .contains("the limit on cure.dose needs the analysis cure", "the job does not give process.irradiance");
        assertThat(problem.source().line()).isPositive();
    }

    @Test
    void a_step_is_told_at_its_row() throws IOException {
        Path job = job(
                "hot-press",
                "  temperature: \"187 degC\"",
                String.join(
                        "\n",
                        "  steps:",
                        "    - {time: 5 min, temperature: 187 degC, pressure: 0 MPa}",
                        "    - {time: 9 min, temperature: 560 degC, pressure: 5 MPa}",
                        "    - {time: 9 min, temperature: 60 degC, pressure: 5 MPa}",
                        "  uneven-x: \"0 1\""));
        String text = Files.readString(job);
        Files.writeString(job, text.replaceAll("(?m)^  (pressure|hold|cooling-rate):.*\n", ""));

        Problem problem = problem(job);

        holds(
                problem,
                "process.steps",
                "- {time: 9 min, temperature: 560 degC",
                "step 2 \"heat\": it reaches 560 degC");
    }

    @Test
    void what_an_analysis_finds_while_it_runs_has_its_line_too() throws IOException {
        Path file = job(
                "job",
                "  pressure: \"5 MPa\"",
                String.join(
                        "\n",
                        "  particles:",
                        "    - {x: 0.1 mm, y: 0.1 mm, height: 100 nm}",
                        "    - {x: 9 mm, y: 0.1 mm, height: 100 nm}",
                        "  pressure: \"5 MPa\""));
        Job job = Job.read(file, ALL);
        FieldSet map = SampleFields.of(
                new TileGrid(0, 0, 1e-4, 3, 3),
                new double[] {0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5},
                150e-9,
                10e-6);

        InputException refused = catchThrowableOfType(
                InputException.class, () -> Simulation.analyse(job, map, RunOptions.STANDARD, new Progress()));

        assertThat(refused.problems()).hasSize(1);
        Problem problem = refused.problems().get(0);
        holds(problem, problem.key(), "- {x: 9 mm", "row 2: the particle at x = 9");
    }
}
