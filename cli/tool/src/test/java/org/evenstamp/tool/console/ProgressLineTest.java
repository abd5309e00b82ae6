package org.evenstamp.tool.console;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.concurrent.atomic.AtomicLong;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Test;

class ProgressLineTest {
    private final AtomicLong nanos = new AtomicLong();
    private final Progress progress = new Progress();
    private final StringWriter err = new StringWriter();

    private ProgressLine line(boolean live) {
        return new ProgressLine(progress, new PrintWriter(err), nanos::get, 79, live);
    }

    @Test
    void share_rate_and_time_left_are_told() {
        try (ProgressLine line = line(false);
                Stage stage = progress.stage("reading", 400_000_000, "bytes")) {
            assertThat(line.line()).isEqualTo("reading  0 %");
            stage.advance(100_000_000);
            nanos.set(2_000_000_000L);
            assertThat(line.line()).isEqualTo("reading  25 %  50.0 MB/s  6 s left");
        }
    }

    @Test
    void a_stage_that_is_shown_again_is_rated_by_what_it_does_from_then_on() {
        try (ProgressLine line = line(false);
                Stage outer = progress.stage("rounds", 100, "rounds")) {
            outer.advance(80);
            try (Stage inner = progress.stage("solving", 0, "iterations")) {
                assertThat(line.line()).startsWith("solving");
                inner.advance(1);
            }
            assertThat(line.line()).isEqualTo("rounds  80 %");
            nanos.set(2_000_000_000L);
            outer.advance(2);
            assertThat(line.line()).isEqualTo("rounds  82 %  1 rounds/s  18 s left");
        }
    }

    @Test
    void the_youngest_open_stage_is_shown_and_an_unknown_total_as_a_count() {
        try (ProgressLine line = line(false)) {
            progress.stage("done", 1, "tiles").close();
            assertThat(line.line()).isEmpty();
            Stage stage = progress.stage("merging", 0, "polygons");
            stage.advance(7);
            assertThat(line.line()).isEqualTo("merging  7 polygons");
        }
    }

    @Test
    void the_line_is_cut_between_words_to_the_width_of_the_terminal() {
        progress.stage("solving the film under the stamp", 100, "steps").advance(50);

        assertThat(lineAt(80)).isEqualTo("solving the film under the stamp  50 %");
        assertThat(lineAt(39)).isEqualTo("solving the film under the stamp  50 %");
        assertThat(lineAt(38)).isEqualTo("solving the film under the stamp  50…");
        assertThat(lineAt(32)).isEqualTo("solving the film under the…");
        assertThat(lineAt(12)).isEqualTo("solving…");
        assertThat(lineAt(1)).isEqualTo("solving…"); // ten columns at least
    }

    private String lineAt(int columns) {
        try (ProgressLine line = new ProgressLine(progress, new PrintWriter(err), nanos::get, columns, false)) {
            return line.line();
        }
    }

    @Test
    void nothing_is_written_where_there_is_no_terminal() {
        line(false).close();

        assertThat(err.toString()).isEmpty();
    }

    @Test
    void the_line_is_cleared_at_the_end() {
        line(true).close();

        assertThat(err.toString()).endsWith("\r");
    }
}
