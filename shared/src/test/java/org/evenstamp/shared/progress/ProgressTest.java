package org.evenstamp.shared.progress;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class ProgressTest {
    @Test
    void a_stage_counts_the_work_of_all_threads() {
        Progress progress = new Progress();
        try (Stage stage = progress.stage("reading", 1000, "bytes")) {
            IntStream.range(0, 1000).parallel().forEach(i -> stage.advance(1));
            assertThat(stage.closed()).isFalse();
        }

        assertThat(progress.stages()).singleElement().satisfies(stage -> {
            assertThat(stage.name()).isEqualTo("reading");
            assertThat(stage.done()).isEqualTo(1000);
            assertThat(stage.total()).isEqualTo(1000);
            assertThat(stage.unit()).isEqualTo("bytes");
            assertThat(stage.closed()).isTrue();
        });
    }

    @Test
    void the_wish_to_stop_is_heard_wherever_work_is_counted() {
        Progress progress = new Progress();
        try (Stage stage = progress.stage("work", 0, "steps")) {
            stage.advance(1);
            progress.cancel();

            assertThatThrownBy(() -> stage.advance(1)).isInstanceOf(CancelledException.class);
        }
        assertThatThrownBy(() -> progress.stage("more", 0, "steps")).isInstanceOf(CancelledException.class);
        assertThatThrownBy(progress::checkCancelled).isInstanceOf(CancelledException.class);
    }
}
