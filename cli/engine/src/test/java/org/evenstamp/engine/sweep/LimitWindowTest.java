package org.evenstamp.engine.sweep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Windows that can be said beforehand: a quarter of the stamp is cavities, so the layer is the film less a quarter of the depth. */
class LimitWindowTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));

    @TempDir
    Path directory;

    private Job job(String film, String limits) throws IOException {
        Files.writeString(directory.resolve("line.geojson"), """
                {"type": "Polygon", "coordinates": [[[15, 0], [25, 0], [25, 40], [15, 40], [15, 0]]]}
                """);
        Path file = Files.writeString(directory.resolve("job.yaml"), """
                layout:
                  file: line.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["40 um", "40 um"]}
                tiles: {side: "40 um"}
                stamp: {depth: "150 nm"}
                film: {thickness: "%s", viscosity: "1e4 Pa s"}
                process: {pressure: "5 MPa"}
                %s
                """.formatted(film, limits));
        return Job.read(file, PIPELINE);
    }

    private static LimitWindow window(Job job, String key) {
        return LimitWindow.of(job, key, RunOptions.STANDARD.withThreads(1), new Progress());
    }

    /** From within, and from 40 nm below and 100 nm above it: the bounds are 247.5 nm and 437.5 nm of film. */
    @ParameterizedTest
    @CsvSource({"250 nm", "430 nm", "210 nm", "540 nm", "150 nm"})
    void each_end_lies_between_two_runs_and_names_the_limit_that_closes_it(String film) throws IOException {
        Job job = job(film, """
                limits:
                  residual.local: {each: ">= 210 nm", mean: "<= 400 nm"}
                """);
        LimitWindow window = window(job, "film.thickness");
        LimitWindow.End low = window.low().orElseThrow();
        LimitWindow.Try below = low.outside().orElseThrow();
        assertThat(low.inside().value()).isGreaterThanOrEqualTo(247.5e-9 * (1 - 1e-9));
        assertThat(below.value())
                .isLessThan(247.5e-9)
                .isGreaterThan(low.inside().value() / 1.05);
        assertThat(below.tightest())
                .hasValueSatisfying(limit -> assertThat(limit.boundSi()).isCloseTo(210e-9, within(1e-15)));
        LimitWindow.End high = window.high().orElseThrow();
        LimitWindow.Try above = high.outside().orElseThrow();
        assertThat(high.inside().value()).isLessThanOrEqualTo(437.5e-9 * (1 + 1e-9));
        assertThat(above.value())
                .isGreaterThan(437.5e-9)
                .isLessThan(high.inside().value() * 1.05);
        assertThat(above.tightest())
                .hasValueSatisfying(limit -> assertThat(limit.boundSi()).isCloseTo(400e-9, within(1e-15)));
        assertThat(window.tries()).hasSizeLessThan(20);
    }

    @Test
    void an_end_that_no_run_breaks_is_open() throws IOException {
        LimitWindow window = window(job("250 nm", "limits: {residual.local: {each: \">= 210 nm\"}}"), "film.thickness");
        LimitWindow.End high = window.high().orElseThrow();
        assertThat(high.outside()).isEmpty();
        assertThat(high.inside().value()).isCloseTo(Math.scalb(250e-9, 6), within(1e-15));
    }

    @Test
    void a_run_that_cannot_be_computed_closes_an_end_with_its_reason() throws IOException {
        // A film of more than 1 mm is refused.
        LimitWindow window = window(job("99 um", "limits: {residual.local: {each: \">= 210 nm\"}}"), "film.thickness");
        LimitWindow.Try outside = window.high().orElseThrow().outside().orElseThrow();
        assertThat(outside.failure()).contains("film.thickness");
        assertThat(outside.tightest()).isEmpty();
    }

    @Test
    void where_no_run_keeps_the_limits_there_is_no_window() throws IOException {
        LimitWindow window = window(job("250 nm", """
                limits:
                  residual.local: {each: ">= 210 nm", mean: "<= 209 nm"}
                """), "film.thickness");
        assertThat(window.low()).isEmpty();
        assertThat(window.high()).isEmpty();
        assertThat(window.tries()).hasSize(13).noneMatch(LimitWindow.Try::holds);
    }

    @Test
    void a_job_without_limits_or_without_the_value_is_refused() throws IOException {
        assertThatThrownBy(() -> window(job("250 nm", ""), "film.density"))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("no limits")
                .hasMessageContaining("film.density");
    }

    @Test
    void it_can_be_stopped() throws IOException {
        Job job = job("250 nm", "limits: {residual.local: {each: \">= 210 nm\"}}");
        Progress progress = new Progress();
        progress.cancel();
        assertThatThrownBy(() -> LimitWindow.of(job, "film.thickness", RunOptions.STANDARD, progress))
                .isInstanceOf(CancelledException.class);
    }
}
