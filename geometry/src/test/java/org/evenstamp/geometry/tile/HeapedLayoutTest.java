package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Features that lie on each other a thousand times are counted right or refused, never wrapped. */
@Timeout(60)
class HeapedLayoutTest {
    private static final double UM = 1e-6;
    private static final String SQUARE = "POLYGON ((20 20, 60 20, 60 60, 20 60, 20 20))\n";

    @TempDir
    private Path directory;

    private TileMap map(String text, int threads) throws IOException {
        Path file = Files.writeString(directory.resolve("layout.txt"), text);
        LayoutFile layout = LayoutFile.open(file, new ReadOptions(null, UM, ReadOptions.Policy.SKIP));
        return new TileMapper(new MapOptions(
                        MapOptions.Drawn.CAVITIES,
                        150e-9,
                        new Outline(0, 0, 200 * UM, 100 * UM),
                        100 * UM,
                        MapOptions.Structure.ESTIMATED,
                        MapOptions.Around.CLOSED,
                        threads))
                .map(layout, new Progress());
    }

    private static double cavity(TileMap map) {
        double sum = 0;
        for (double share : map.fields().get(TileFields.CAVITY_FRACTION).toArray()) {
            sum += share;
        }
        return sum;
    }

    private static String array(long columns, long rows, double dx, double dy) {
        return array(11, columns, rows, dx, dy);
    }

    private static String array(int end, long columns, long rows, double dx, double dy) {
        String ring = "[[10,10],[11,10],[11,11],[10,11],[10,10]]".replace("11", Integer.toString(end));
        return "{\"type\":\"Feature\",\"properties\":{\"repeat\":{\"columns\":" + columns + ",\"rows\":" + rows
                + ",\"dx\":" + dx
                + ",\"dy\":" + dy + "}},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":["
                + ring + "]}}\n";
    }

    @ParameterizedTest
    @ValueSource(ints = {2, 100, 9000})
    void equal_polygons_count_once_however_many_there_are(int times) throws IOException {
        for (int threads : new int[] {1, 2}) {
            TileMap map = map(SQUARE.repeat(times) + "POLYGON ((120 20, 160 20, 160 60, 120 60, 120 20))\n", threads);

            assertThat(cavity(map)).isCloseTo(0.32, within(1e-12));
            assertThat(map.warnings()).extracting(Finding.Warning::code).isEmpty();
        }
    }

    @Test
    void equal_arrays_count_once_too() throws IOException {
        TileMap map = map(array(40, 40, 2, 2).repeat(300), 2);

        assertThat(cavity(map)).isCloseTo(0.16, within(1e-12));
        assertThat(map.warnings()).extracting(Finding.Warning::code).isEmpty();
    }

    @Test
    void what_is_alike_but_for_its_depth_is_not_equal() throws IOException {
        String deep =
                "{\"type\":\"Feature\",\"properties\":{\"depth\":0.3},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":"
                        + "[[[20,20],[60,20],[60,60],[20,60],[20,20]]]}}\n";
        String shallow = deep.replace("0.3", "0.1");
        TileMap map = map((deep + shallow).repeat(40), 1);

        assertThat(map.fields().get(TileFields.CAVITY_VOLUME).at(0)).isCloseTo(0.16 * 0.3e-6, within(1e-18));
    }

    @ParameterizedTest
    @CsvSource({"300, 300, 0.001, 0.001", "1, 20000, 1, 1e-6", "10000, 1, 1e-9, 1"})
    void copies_on_each_other_are_refused_with_the_place_and_how_often(int columns, int rows, double dx, double dy) {
        assertThatThrownBy(() -> map(array(90, columns, rows, dx, dy), 2))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("layout at x = 50.0000 um, y = 50.0000 um: features cover a tile about ")
                .hasMessageContaining("at most 4096 times")
                .hasMessageContaining("steps of arrays");
    }

    @Test
    void an_edge_length_beyond_all_measure_is_refused() {
        // A million combs of ten lines that fill a tile: their edges are twenty million tile sides.
        StringBuilder comb = new StringBuilder("[");
        for (int i = 0; i < 10; i++) {
            double y = 10 + 8e-6 * i;
            comb.append(i == 0 ? "" : ",")
                    .append(String.format(
                            java.util.Locale.ROOT,
                            "[[[0,%.7f],[100,%.7f],[100,%.7f],[0,%.7f],[0,%.7f]]]",
                            y,
                            y,
                            y + 1e-6,
                            y + 1e-6,
                            y));
        }
        String text =
                "{\"type\":\"Feature\",\"properties\":{\"repeat\":{\"columns\":1,\"rows\":1000000,\"dx\":1,\"dy\":8e-5}},"
                        + "\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":" + comb + "]}}\n";

        assertThatThrownBy(() -> map(text, 2))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("tile sides of edge");
    }

    @Test
    void a_thousand_layers_are_counted_and_warned_of() throws IOException {
        // Columns on each other, and rows far beyond the stamp: too many copies to compare.
        TileMap map = map(array(90, 1000, 5_000, 0.001, 20), 2);

        assertThat(map.warnings()).extracting(Finding.Warning::code).contains("overlaps.left");
        double outside = map.figures().stream()
                .filter(figure -> figure.id().equals("area.outside"))
                .findFirst()
                .orElseThrow()
                .valueSi();
        // Of the rows at 10, 30, 50, 70 and 90 um the upper three reach beyond the tiles; all have 1 um right of the
        // first tile.
        double inside = 1000 * 80e-6 * (80 + 70 + 50 + 30 + 10) * 1e-6;
        assertThat(outside).isCloseTo(1000 * 5000 * 80e-6 * 80e-6 - inside, within(1e-9));
    }

    @ParameterizedTest
    @CsvSource({"2, 1, 0, 1", "1, 2, 1, 0", "50, 50, 0, 0"})
    void an_array_with_a_step_of_0_is_left_out_with_the_reason(int columns, int rows, double dx, double dy)
            throws IOException {
        Path file = Files.writeString(directory.resolve("layout.txt"), array(columns, rows, dx, dy));
        LayoutFile layout = LayoutFile.open(file, new ReadOptions(null, UM, ReadOptions.Policy.SKIP));
        layout.forEach(() -> polygon -> {}, 1, "reading", new Progress());

        assertThat(layout.report().skipped().get(0).places())
                .singleElement()
                .asString()
                .contains("a step of 0 would put all copies on each other");
    }

    @Test
    void more_copies_than_can_be_gone_through_are_refused_with_the_number_and_how_to_raise_it() {
        assertThatThrownBy(() -> map(SQUARE_FEATURE + array(1_000_000_000, 1_000_000_000, 1e-6, 1e-6), 2))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("line 2: ")
                .hasMessageContaining("1.000e+18 copies")
                .hasMessageContaining("at most 1.000e+09")
                .hasMessageContaining("-Devenstamp.copies=");
    }

    private static final String SQUARE_FEATURE =
            "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,1],[0,0]]]}\n";

    @ParameterizedTest
    @ValueSource(strings = {"1e300 m", "1e-320 m", "2e6 m", "1e-13 m"})
    void a_length_that_no_stamp_has_is_a_property_that_cannot_be(String length) throws IOException {
        for (String properties : List.of(
                "{\"texture\":{\"kind\":\"lines\",\"pitch\":\"L\",\"width\":\"0.2 um\"}}",
                "{\"texture\":{\"kind\":\"lines\",\"pitch\":\"1 um\",\"width\":\"L\"}}",
                "{\"depth\":\"L\"}")) {
            String text = "{\"type\":\"Feature\",\"properties\":" + properties.replace("L", length)
                    + ",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,1],[0,0]]]}}\n";
            Path file = Files.writeString(directory.resolve("one.txt"), text);
            LayoutFile layout = LayoutFile.open(file, new ReadOptions(null, UM, ReadOptions.Policy.SKIP));
            layout.forEach(() -> polygon -> {}, 1, "reading", new Progress());

            assertThat(layout.report().polygons()).as(properties).isZero();
        }
    }

    @Test
    void an_array_that_leaves_the_plane_is_a_property_that_cannot_be() throws IOException {
        Path file = Files.writeString(directory.resolve("one.txt"), array(1_000_000_000, 1, 1e6, 1));
        LayoutFile layout = LayoutFile.open(file, new ReadOptions(null, UM, ReadOptions.Policy.SKIP));
        layout.forEach(() -> polygon -> {}, 1, "reading", new Progress());

        assertThat(layout.report().skipped().get(0).places().get(0)).contains("repeat reaches more than 2e6 m");
    }
}
