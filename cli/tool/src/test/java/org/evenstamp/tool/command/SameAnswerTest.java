package org.evenstamp.tool.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.function.IntUnaryOperator;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What must not change the answer does not: how long the press stays shut afterwards, how the layout lies on the map, and
 * whether its cavities or its protrusions are drawn. From polygons to the tiles' values.
 */
@Tag("slow")
class SameAnswerTest {
    private static final int TILES = 10;
    private static final double SIDE = 100;
    private static final double SIZE = TILES * SIDE;

    @TempDir
    Path directory;

    private final TriedTool tool = new TriedTool();

    /** Rectangles of 20 to 240 um, apart from each other by 10 um at least: {x0, y0, x1, y1}. */
    private static List<double[]> cavities(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<double[]> found = new ArrayList<>();
        for (int n = 0; n < 400; n++) {
            double x = random.nextInt(1, 90) * 10 + 3;
            double y = random.nextInt(1, 90) * 10 + 3;
            double[] next = {x, y, x + random.nextInt(2, 25) * 10, y + random.nextInt(2, 25) * 10};
            boolean free = next[2] < SIZE - 10 && next[3] < SIZE - 10;
            for (double[] other : found) {
                free &= next[0] > other[2] + 9
                        || next[2] < other[0] - 9
                        || next[1] > other[3] + 9
                        || next[3] < other[1] - 9;
            }
            if (free) {
                found.add(next);
            }
        }
        return found;
    }

    private static String polygon(double[] r) {
        return String.format(
                Locale.ROOT,
                "POLYGON ((%1$f %2$f, %3$f %2$f, %3$f %4$f, %1$f %4$f, %1$f %2$f))%n",
                r[0],
                r[1],
                r[2],
                r[3]);
    }

    private static String layout(List<double[]> cavities, UnaryOperator<double[]> moved) {
        StringBuilder text = new StringBuilder();
        for (double[] cavity : cavities) {
            text.append(polygon(moved.apply(cavity)));
        }
        return text.toString();
    }

    /** The land around the cavities, as rectangles between all their edges. */
    private static String complement(List<double[]> cavities) {
        double[] xs = cavities.stream()
                .flatMapToDouble(r -> Arrays.stream(new double[] {r[0], r[2]}))
                .toArray();
        double[] ys = cavities.stream()
                .flatMapToDouble(r -> Arrays.stream(new double[] {r[1], r[3]}))
                .toArray();
        double[] cutX = cuts(xs);
        double[] cutY = cuts(ys);
        StringBuilder text = new StringBuilder();
        for (int j = 0; j + 1 < cutY.length; j++) {
            int start = -1;
            for (int i = 0; i < cutX.length; i++) {
                boolean land = i + 1 < cutX.length && isLand(cavities, cutX[i] + 1e-3, cutY[j] + 1e-3);
                if (land && start < 0) {
                    start = i;
                } else if (!land && start >= 0) {
                    text.append(polygon(new double[] {cutX[start], cutY[j], cutX[i], cutY[j + 1]}));
                    start = -1;
                }
            }
        }
        return text.toString();
    }

    private static double[] cuts(double[] places) {
        double[] all = Arrays.copyOf(places, places.length + 2);
        all[places.length] = -5; // land goes on beyond the rim: at it would be an edge
        all[places.length + 1] = SIZE + 5;
        return Arrays.stream(all).sorted().distinct().toArray();
    }

    private static boolean isLand(List<double[]> cavities, double x, double y) {
        return cavities.stream().noneMatch(r -> x > r[0] && x < r[2] && y > r[1] && y < r[3]);
    }

    /** One column of the tiles' table, row 0 first; NaN where there is no value. */
    private static double[] column(List<String> lines, String name) {
        int place = Arrays.asList(lines.get(0).split(",", -1)).indexOf(name);
        return lines.stream()
                .skip(1)
                .mapToDouble(line -> {
                    String value = line.split(",", -1)[place];
                    return value.isEmpty() ? Double.NaN : Double.parseDouble(value);
                })
                .toArray();
    }

    private List<String> run(String layout, String drawn, String stepError, String hold) throws IOException {
        Files.writeString(directory.resolve("layout.wkt"), layout);
        Path job = Files.writeString(directory.resolve("job.yaml"), """
            layout:
              file: layout.wkt
              format: wkt-lines
              unit: um
              drawn: %s
              outline: {min: ["0 um", "0 um"], max: ["1000 um", "1000 um"]}
            tiles: {side: "100 um", resolution: off}
            stamp: {depth: "100 nm", kind: bonded-layer, layer.modulus: "4 GPa", layer.poisson: "0.4 1", layer.thickness: "100 um"}
            film: {thickness: "250 nm", viscosity: "1e4 Pa s", step-error: "%s %%"}
            process: {pressure: "2 MPa", hold: "%s s"}
            """.formatted(drawn, stepError, hold));
        Path out = directory.resolve("out");
        assertThat(tool.run("run", job, "--no-report", "--replace", "--exceeded-ok", "--out", out))
                .as(tool.err.toString())
                .isZero();
        return Files.readAllLines(out.resolve("tiles.csv"));
    }

    private static double range(double[] values) {
        return Arrays.stream(values).max().orElseThrow()
                - Arrays.stream(values).min().orElseThrow();
    }

    /** Compares residual layer and fill times of two maps, one of which is told where the other's tiles went. */
    private static void assertSame(List<String> plain, List<String> moved, IntUnaryOperator place) {
        double[] layer = column(plain, "residual.final");
        double[] layerThere = column(moved, "residual.final");
        double[] filled = column(plain, "fill.time");
        double[] filledThere = column(moved, "fill.time");
        double allowed = 1e-3 * range(layer);
        for (int i = 0; i < layer.length; i++) {
            int there = place.applyAsInt(i);
            assertThat(layerThere[there]).as("layer of tile " + i).isCloseTo(layer[i], within(allowed));
            assertThat(Double.isNaN(filledThere[there])).isEqualTo(Double.isNaN(filled[i]));
            if (!Double.isNaN(filled[i])) {
                assertThat(filledThere[there])
                        .as("fill time of tile " + i)
                        .isCloseTo(filled[i], within(0.02 * filled[i] + 1e-9));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void mirrored_turned_shifted_or_drawn_the_other_way_round_the_layout_prints_the_same(long seed) throws IOException {
        List<double[]> cavities = cavities(seed);
        List<String> plain = run(layout(cavities, r -> r), "cavities", "0.5", "40");
        List<String> mirrored = run(
                layout(cavities, r -> new double[] {SIZE - r[2], r[1], SIZE - r[0], r[3]}), "cavities", "0.5", "40");
        assertSame(plain, mirrored, i -> i / TILES * TILES + TILES - 1 - i % TILES);
        List<String> turned = run(
                layout(cavities, r -> new double[] {SIZE - r[3], r[0], SIZE - r[1], r[2]}), "cavities", "0.5", "40");
        assertSame(plain, turned, i -> i % TILES * TILES + TILES - 1 - i / TILES);
        assertSame(plain, run(complement(cavities), "protrusions", "0.5", "40"), i -> i);
        StringBuilder shifted = new StringBuilder();
        for (double[] r : cavities) {
            for (int n = 0; n < 4; n++) {
                int right = n % 2;
                int up = n / 2;
                double x = 300 - SIZE * right;
                double y = 500 - SIZE * up;
                double[] there = {r[0] + x, r[1] + y, r[2] + x, r[3] + y};
                if (there[0] < SIZE && there[2] > 0 && there[1] < SIZE && there[3] > 0) {
                    shifted.append(polygon(there));
                }
            }
        }
        assertSame(
                plain,
                run(shifted.toString(), "cavities", "0.5", "40"),
                i -> (i / TILES + 5) % TILES * TILES + (i + 3) % TILES);
    }

    @ParameterizedTest
    @CsvSource({"1, 400", "2, 4000", "3, 40000"})
    void what_happens_early_does_not_depend_on_how_long_the_press_stays_shut(long seed, String longer)
            throws IOException {
        String layout = layout(cavities(seed), r -> r);
        List<String> plain = run(layout, "cavities", "0.5", "40");
        List<String> after = run(layout, "cavities", "0.5", longer);
        for (String name : List.of("fill.rate", "pressure.open", "fill.time")) {
            double[] here = column(plain, name);
            double[] there = column(after, name);
            double end = name.equals("fill.time") ? 20 : Double.POSITIVE_INFINITY; // the last steps land on the end
            double[] filled = column(plain, "fill.time");
            for (int i = 0; i < here.length; i++) {
                if (here[i] < end && filled[i] < 20) {
                    assertThat(there[i])
                            .as(name + " of tile " + i)
                            .isCloseTo(here[i], within(0.01 * Math.abs(here[i]) + 1e-9));
                }
            }
        }
    }

    /** The last fill is that of one tile, which creeps: it moves by up to 3.3 % in the first of these layouts. */
    @Test
    void half_the_error_of_a_time_step_moves_the_layer_by_less_than_a_hundredth_and_the_last_fill_by_a_twentieth()
            throws IOException {
        for (long seed = 1; seed <= 3; seed++) {
            String layout = layout(cavities(seed), r -> r);
            List<String> plain = run(layout, "cavities", "0.5", "400");
            List<String> finer = run(layout, "cavities", "0.25", "400");
            double[] here = column(plain, "residual.final");
            double[] there = column(finer, "residual.final");
            assertThat(sigma(there)).isCloseTo(sigma(here), within(0.01 * sigma(here)));
            assertThat(Arrays.stream(there).average().orElseThrow())
                    .isCloseTo(Arrays.stream(here).average().orElseThrow(), within(0.01 * 100));
            double last = last(column(plain, "fill.time"));
            assertThat(last(column(finer, "fill.time")))
                    .as("last fill, seed " + seed)
                    .isCloseTo(last, within(0.05 * last));
        }
    }

    private static double sigma(double[] values) {
        double mean = Arrays.stream(values).average().orElseThrow();
        return Math.sqrt(Arrays.stream(values)
                .map(v -> (v - mean) * (v - mean))
                .average()
                .orElseThrow());
    }

    private static double last(double[] seconds) {
        return Arrays.stream(seconds).filter(t -> !Double.isNaN(t)).max().orElseThrow();
    }
}
