package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Layouts that cross themselves without end are answered soon, and whatever takes long can be stopped. */
@Timeout(60)
class TangledLayoutTest {
    private static final double UM = 1e-6;

    @TempDir
    private Path directory;

    private LayoutFile layout(String text, ReadOptions.Policy policy) throws IOException {
        Path file = Files.writeString(directory.resolve("layout.txt"), text);
        return LayoutFile.open(file, new ReadOptions(null, UM, policy));
    }

    private static TileMap map(LayoutFile layout, Progress progress) {
        MapOptions options = new MapOptions(
                MapOptions.Drawn.CAVITIES,
                150e-9,
                null,
                null,
                MapOptions.Structure.ESTIMATED,
                MapOptions.Around.CLOSED,
                2);
        return new TileMapper(options).map(layout, progress);
    }

    private static String polygon(double... xy) {
        StringBuilder text = new StringBuilder("POLYGON ((");
        for (int i = 0; i < xy.length; i += 2) {
            text.append(String.format(Locale.ROOT, "%.3f %.3f, ", xy[i], xy[i + 1]));
        }
        return text.append(String.format(Locale.ROOT, "%.3f %.3f))\n", xy[0], xy[1]))
                .toString();
    }

    private static String mesh(int lines) {
        StringBuilder text = new StringBuilder();
        double length = 10.0 * lines;
        for (int i = 0; i < lines; i++) {
            double at = 10.0 * i + 2;
            text.append(polygon(at, 0, at + 3, 0, at + 3, length, at, length));
            text.append(polygon(0, at, length, at, length, at + 3, 0, at + 3));
        }
        return text.toString();
    }

    private static String tangle(int corners) {
        SplittableRandom random = new SplittableRandom(corners);
        return polygon(random.doubles(2L * corners, 0, 1000).toArray());
    }

    @Test
    void a_mesh_of_crossing_lines_is_merged() throws IOException {
        TileMap map = map(layout(mesh(40), ReadOptions.Policy.SKIP), new Progress());

        double sum = 0;
        for (double share : map.fields().get(TileFields.CAVITY_FRACTION).toArray()) {
            sum += share;
        }
        double side = map.fields().grid().pitchMetres() / UM;
        assertThat(sum * side * side).isCloseTo(2 * 40 * 3 * 400 - 40 * 40 * 9, within(1e-6));
    }

    @Test
    void a_mesh_too_large_to_merge_is_refused_with_its_place_and_the_way_out() {
        assertThatThrownBy(() -> map(layout(mesh(1000), ReadOptions.Policy.SKIP), new Progress()))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("line 1: 2000 features hang together")
                .hasMessageContaining("cross each other more than 1000000 times")
                .hasMessageContaining("-Devenstamp.crossings=");
    }

    @ParameterizedTest
    @ValueSource(ints = {2000, 20_000})
    void a_tangle_is_left_out_with_the_reason_and_not_mended(int corners) throws IOException {
        LayoutFile layout = layout("POLYGON ((0 0, 1 0, 1 1, 0 0))\n" + tangle(corners), ReadOptions.Policy.REPAIR);
        layout.forEach(() -> polygon -> {}, 2, "reading", new Progress());

        assertThat(layout.report().polygons()).isOne();
        assertThat(layout.report().skipped()).singleElement().satisfies(tally -> {
            assertThat(tally.meaning()).contains("crosses itself more than 50000 times, too often to mend");
            assertThat(tally.places()).singleElement().asString().endsWith("layout.txt:2:1");
        });
    }

    @Test
    void a_ring_that_goes_around_thousands_of_times_is_left_out_with_the_reason() throws IOException {
        String around = "POLYGON ((" + "0 0, 9 1, 8 7, 1 9, -3 4, ".repeat(4000) + "0 0))\n";
        LayoutFile layout = layout(around, ReadOptions.Policy.REPAIR);
        layout.forEach(() -> polygon -> {}, 1, "reading", new Progress());

        assertThat(layout.report().polygons()).isZero();
        assertThat(layout.report().skipped())
                .singleElement()
                .satisfies(tally -> assertThat(tally.code()).isEqualTo("layout.tangled"));
    }

    @Test
    void a_small_tangle_is_mended_and_covers_what_the_rule_says() throws IOException {
        LayoutFile layout = layout("POLYGON ((0 0, 10 10, 10 0, 0 10, 0 0))\n", ReadOptions.Policy.REPAIR);

        layout.forEach(() -> polygon -> {}, 1, "reading", new Progress());

        assertThat(layout.report().polygons()).isEqualTo(2);
    }

    /** Stops a run in the middle, once it has entered a stage, and returns how long it went on, s. */
    private static double stopIn(String stage, LayoutFile layout) throws InterruptedException {
        Progress progress = new Progress();
        CompletableFuture<TileMap> run = CompletableFuture.supplyAsync(() -> map(layout, progress));
        while (progress.stages().stream().noneMatch(s -> s.name().equals(stage))) {
            assertThat(run).isNotDone();
            Thread.sleep(5);
        }
        Thread.sleep(300);
        long asked = System.nanoTime();
        progress.cancel();
        assertThatThrownBy(() -> run.get(30, TimeUnit.SECONDS))
                .isInstanceOf(ExecutionException.class)
                .hasCauseInstanceOf(CancelledException.class);
        return (System.nanoTime() - asked) * 1e-9;
    }

    @Test
    void the_wish_to_stop_is_heard_inside_a_call_of_the_library() throws IOException, InterruptedException {
        assertThat(stopIn("merging features", layout(mesh(400), ReadOptions.Policy.SKIP)))
                .isLessThan(5);
    }

    @Test
    void the_wish_to_stop_is_heard_inside_an_array() throws IOException, InterruptedException {
        String array = "{\"type\":\"Feature\",\"properties\":{\"repeat\":{\"columns\":30000,\"rows\":30000,\"dx\":2,"
                + "\"dy\":2}},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}}\n";

        assertThat(stopIn("looking for heaps of features", layout(array, ReadOptions.Policy.SKIP)))
                .isLessThan(5);
    }
}
