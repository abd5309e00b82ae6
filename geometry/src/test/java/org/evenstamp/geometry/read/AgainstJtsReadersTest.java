package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.io.ParseException;
import org.locationtech.jts.io.WKBReader;
import org.locationtech.jts.io.WKTReader;

/** Random layouts in every format and packing, and cut in any way, are the polygons that the JTS readers find. */
class AgainstJtsReadersTest {

    @TempDir
    private Path directory;

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
    void every_format_and_packing_gives_the_same_polygons(int seed) throws ParseException {
        RandomLayout layout = RandomLayout.of(seed, 60);
        List<Geometry> read = new ArrayList<>();
        for (String line : layout.text(LayoutFormat.WKT_LINES).lines().toList()) {
            read.add(new WKTReader().read(line));
        }
        List<Geometry> readBinary = new ArrayList<>();
        for (String line : layout.text(LayoutFormat.WKB_HEX_LINES).lines().toList()) {
            readBinary.add(new WKBReader().read(WKBReader.hexToBytes(line)));
        }
        assertThat(new RandomLayout(readBinary).polygons()).isEqualTo(layout.polygons());
        // The JTS writer of well-known text may change the last digit of a number.
        List<List<List<Double>>> fromText = new RandomLayout(read).polygons();
        for (LayoutFormat format : LayoutFormat.values()) {
            String text = layout.text(format);
            boolean isText = format == LayoutFormat.WKT_LINES || format == LayoutFormat.CSV_WKT;
            List<List<List<Double>>> wanted = isText ? fromText : layout.polygons();
            for (Compression compression : Compression.values()) {
                Path file = Reading.file(directory, "layout", Reading.packed(text, compression));
                Reading reading = Reading.of(file, Reading.METRES);
                ReadReport report = reading.report();
                assertThat(report.format()).isEqualTo(format);
                assertThat(report.compression()).isEqualTo(compression);
                assertThat(report.skipped()).as("%s %s", format, compression).isEmpty();
                same(reading, wanted);
                assertThat(report.polygons()).isEqualTo(wanted.size());
                assertThat(report.features().total()).isEqualTo(60);
                assertThat(report.lines()).isEqualTo(text.lines().count());
            }
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {11, 12, 13})
    void cuts_of_any_size_and_any_number_of_threads_give_the_same_stream(int seed) {
        RandomLayout layout = RandomLayout.of(seed, 40);
        for (LayoutFormat format : LayoutFormat.values()) {
            Path file = Reading.file(directory, "layout", layout.text(format));
            Reading whole = Reading.of(file, Reading.METRES);
            List<List<List<Double>>> wanted =
                    whole.polygons().stream().map(Reading.Polygon::rings).toList();
            List<Long> lines =
                    whole.polygons().stream().map(Reading.Polygon::line).toList();
            assertThat(wanted).hasSameSizeAs(layout.polygons());
            for (int chunkBytes : new int[] {1, 64, 1000, 4096}) {
                LayoutFile cut = LayoutFile.open(file, Reading.METRES, chunkBytes, Reading.LIMIT);
                Reading first = Reading.of(cut, 1);
                same(first, wanted);
                assertThat(first.polygons()).extracting(Reading.Polygon::line).isEqualTo(lines);
                for (int threads = 1; threads <= 3; threads++) {
                    Reading again = Reading.of(cut, threads);
                    assertThat(again.polygons()).isEqualTo(first.polygons());
                    assertThat(again.report()).isEqualTo(first.report());
                }
            }
        }
    }

    private static void same(Reading reading, List<List<List<Double>>> wanted) {
        assertThat(reading.polygons()).hasSameSizeAs(wanted);
        for (int i = 0; i < wanted.size(); i++) {
            assertThat(reading.polygons().get(i).rings()).as("polygon %d", i).isEqualTo(wanted.get(i));
        }
    }

    @Test
    void line_of_a_feature_is_where_it_begins() {
        RandomLayout layout = RandomLayout.of(5, 40);
        String[] lines = layout.text(LayoutFormat.GEOJSON).split("\n", -1);
        Reading reading = Reading.of(directory, layout.text(LayoutFormat.GEOJSON), Reading.METRES);
        for (Reading.Polygon polygon : reading.polygons()) {
            String first =
                    polygon.rings().get(0).get(0) + "," + polygon.rings().get(0).get(1);
            assertThat(lines[(int) polygon.line() - 1]).contains(first);
        }
    }

    @Test
    void a_line_of_many_megabytes_is_read() {
        StringBuilder text = new StringBuilder("POLYGON ((0 0");
        int n = 400_000;
        for (int i = 1; i <= n; i++) {
            text.append(", ").append(i).append(i % 2 == 0 ? " 0.25" : " 0.75");
        }
        text.append(", ").append(n).append(" 9, 0 9, 0 0))\n");
        String small = "POLYGON ((0 0, 1 0, 1 1, 0 0))\n";
        Path file = Reading.file(directory, "long.wkt", small + text + small);
        Reading reading = Reading.of(LayoutFile.open(file, Reading.METRES, 4096, Reading.LIMIT), 2);
        assertThat(reading.polygons())
                .extracting(p -> p.rings().get(0).size() / 2)
                .containsExactly(3, n + 3, 3);
        assertThat(reading.polygons()).extracting(Reading.Polygon::line).containsExactly(1L, 2L, 3L);
    }
}
