package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Reading ends when it is told to, when a sink fails, and never leaves a thread behind. */
@Timeout(20)
class StoppingTest {

    @TempDir
    private Path directory;

    private LayoutFile layout() {
        Path file = Reading.file(directory, "many.wkt", "POLYGON ((0 0, 1 0, 1 1, 0 0))\n".repeat(2000));
        return LayoutFile.open(file, Reading.METRES, 1024, Reading.LIMIT);
    }

    @AfterEach
    void noThreadIsLeft() {
        assertThat(Thread.getAllStackTraces().keySet())
                .filteredOn(thread -> thread.getName().startsWith("layout-reader"))
                .isEmpty();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void cancelling_ends_it(int threads) {
        Progress progress = new Progress();
        AtomicInteger taken = new AtomicInteger();
        PolygonSink sink = polygon -> {
            if (taken.incrementAndGet() == 100) {
                progress.cancel();
            }
        };
        LayoutFile layout = layout();
        assertThatThrownBy(() -> layout.forEach(() -> sink, threads, "reading", progress))
                .isInstanceOf(CancelledException.class);
        assertThat(taken.get()).isBetween(100, 300);
        assertThat(progress.stages())
                .singleElement()
                .satisfies(stage -> assertThat(stage.closed()).isTrue());
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void interrupting_the_caller_ends_it_and_leaves_it_interrupted(int threads) {
        Thread caller = Thread.currentThread();
        AtomicInteger taken = new AtomicInteger();
        PolygonSink sink = polygon -> {
            if (taken.incrementAndGet() == 100) {
                caller.interrupt();
            }
        };
        LayoutFile layout = layout();
        assertThatThrownBy(() -> layout.forEach(() -> sink, threads, "reading", new Progress()))
                .isInstanceOf(CancelledException.class);
        assertThat(Thread.interrupted()).isTrue();
        // The layout can be gone through afterwards.
        assertThat(Reading.of(layout, threads).polygons()).hasSize(2000);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void a_sink_that_fails_ends_it_with_its_failure(int threads) {
        AtomicBoolean failed = new AtomicBoolean();
        PolygonSink sink = polygon -> {
            if (polygon.chunk == 7) {
                failed.set(true);
                throw new ArithmeticException("the sink is full");
            }
        };
        LayoutFile layout = layout();
        assertThatThrownBy(() -> layout.forEach(() -> sink, threads, "reading", new Progress()))
                .isInstanceOf(ArithmeticException.class)
                .hasMessage("the sink is full");
        assertThat(failed).isTrue();
    }

    @ParameterizedTest
    @EnumSource(Compression.class)
    void the_whole_file_is_counted_as_progress(Compression compression) {
        for (LayoutFormat format : LayoutFormat.values()) {
            byte[] bytes = Reading.packed(RandomLayout.of(3, 50).text(format), compression);
            LayoutFile layout = LayoutFile.open(Reading.file(directory, "layout", bytes), Reading.METRES, 500, 1 << 20);
            Progress progress = new Progress();
            layout.forEach(() -> polygon -> {}, 2, "reading", progress);
            assertThat(progress.stages()).singleElement().satisfies(stage -> {
                assertThat(stage.total()).isEqualTo(bytes.length);
                assertThat(stage.done()).isEqualTo(bytes.length);
            });
        }
    }

    @Test
    void every_worker_has_its_sink() {
        assertThat(layout().forEach(() -> polygon -> {}, 3, "reading", new Progress()))
                .hasSize(3);
        LayoutFile layout = layout();
        assertThatThrownBy(() -> layout.forEach(() -> polygon -> {}, 0, "reading", new Progress()))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
