package org.evenstamp.cluster;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Layouts on a cluster within this process, through the whole tool. */
class MeasureOnClusterTest {
    private static final String LOCAL = "flink://local";

    @TempDir
    Path directory;

    /** Four thousand triangles, some of which overlap, and two lines that are no polygons. */
    private Path layout() throws IOException {
        SplittableRandom random = new SplittableRandom(7);
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 4_000; i++) {
            double x = random.nextDouble(640);
            double y = random.nextDouble(640);
            text.append(String.format(
                    Locale.ROOT,
                    "POLYGON((%.17g %.17g, %.17g %.17g, %.17g %.17g, %.17g %.17g))%n",
                    x,
                    y,
                    x + 5 + random.nextDouble(),
                    y + random.nextDouble(),
                    x + random.nextDouble(),
                    y + 4,
                    x,
                    y));
            if (i == 3_000) {
                text.append(String.format("POLYGON((0 0, 5 5, 0 5, 5 0, 0 0))%nPOINT(3 4)%n"));
            }
        }
        return Files.writeString(directory.resolve("triangles.wkt"), text);
    }

    private ToolCall measure(Path layout, Object... more) {
        return new ToolCall(Stream.concat(
                        Stream.of("measure", layout, "--unit", "um", "--tile", "20 um", "--json"), Stream.of(more))
                .toArray());
    }

    @Test
    void a_layout_in_bands_gives_the_same_bytes_and_is_not_measured_twice() throws IOException {
        Path layout = layout();
        Path store = directory.resolve("store");

        ToolCall here = measure(layout, "--threads", 1);
        ToolCall there = measure(layout, "--engine", LOCAL, "--store", store, "--threads", 2);

        assertThat(there.err.toString()).isEqualTo(here.err.toString());
        assertThat(there.code).isZero();
        assertThat(there.out.toString())
                .isEqualTo(here.out.toString())
                .contains("triangles.wkt:3002:1: ring that crosses or touches itself");

        // All pieces are there: what is left is to put them together, and no cluster is started.
        ToolCall again = measure(layout, "--engine", LOCAL, "--store", store, "--threads", 2);
        assertThat(again.out.toString()).isEqualTo(here.out.toString());
    }

    @Test
    void what_cannot_be_cut_is_refused_with_one_problem() throws IOException {
        Path collection = Files.writeString(
                directory.resolve("one.geojson"),
                "{\"type\": \"FeatureCollection\", \"features\": [{\"type\": \"Feature\", \"properties\": {}, \"geometry\":"
                        + " {\"type\": \"Polygon\", \"coordinates\": [[[0, 0], [9, 0], [9, 9], [0, 0]]]}}]}");

        ToolCall call = measure(collection, "--engine", LOCAL, "--store", directory.resolve("store"));

        assertThat(call.code).isEqualTo(3);
        assertThat(call.err.toString())
                .contains("cannot be read from its middle")
                .contains("write it as lines");
        assertThat(call.err.toString().lines()).hasSize(1);
    }
}
