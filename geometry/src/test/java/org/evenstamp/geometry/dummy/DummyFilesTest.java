package org.evenstamp.geometry.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DummyFilesTest {
    private static final DummyRules RULES =
            Stamps.rules(DummyShape.disc(2e-6), DummyShape.square(0.7e-6), DummyRules.Arrangement.HEXAGONAL);

    private static PolygonStore read(Path file) {
        PolygonStore store = new PolygonStore();
        Double unit = file.toString().contains("ndjson") ? 1e-6 : null;
        LayoutFile.open(file, new ReadOptions(null, unit, ReadOptions.Policy.SKIP))
                .forEach(() -> store::add, 1, "reading", new Progress());
        return store;
    }

    @ParameterizedTest
    @CsvSource({"dummies.geojson, merged.geojson.gz", "dummies.ndjson.gz, merged.ndjson"})
    void what_was_counted_is_measured_in_the_files(String alone, String together, @TempDir Path folder)
            throws IOException {
        for (long seed = 0; seed < 4; seed++) {
            List<PackedPolygon> layout = Stamps.layout(seed);
            FreeSites sites = Stamps.survey(RULES, layout);
            double[] asked = sites.capacitySquareMetres();
            for (int i = 0; i < asked.length; i++) {
                asked[i] *= (i % 7) / 5.0;
            }
            DummyFiles files = new DummyFiles(folder.resolve(alone), folder.resolve(together));
            Placement placement = files.write(Polygons.store(layout), sites, asked, new Progress());

            PolygonStore dummies = read(files.dummies());
            PolygonStore merged = read(files.merged());
            assertThat(placement.dummies()).isPositive().isEqualTo(dummies.size());
            assertThat(merged.size()).isEqualTo(layout.size() + dummies.size());
            CoverageSums fromDummies = new CoverageSums(8, 8, -Stamps.HALF, -Stamps.HALF, 25e-6);
            CoverageSums fromMerged = new CoverageSums(8, 8, -Stamps.HALF, -Stamps.HALF, 25e-6);
            sum(dummies, fromDummies);
            sum(merged, fromMerged);
            double[] placed = placement.placedSquareMetres();
            for (double[] measured : List.of(fromDummies.coverage(), fromMerged.coverage())) {
                for (int i = 0; i < placed.length; i++) {
                    double tile = Stamps.GRID.tileAreaSquareMetres();
                    assertThat(measured[i] * tile).isCloseTo(placed[i], within(1e-9 * placed[i] + 1e-14 * tile));
                }
            }
            for (int i = 0; i < layout.size(); i++) {
                assertThat(merged.traitsOf(i).role())
                        .isEqualTo(layout.get(i).traits.role());
            }
            try (Stream<Path> left = Files.list(folder)) {
                assertThat(left).containsExactlyInAnyOrder(files.dummies(), files.merged());
            }
        }
    }

    private static void sum(PolygonStore store, CoverageSums sums) {
        PackedPolygon polygon = new PackedPolygon();
        for (int i = 0; i < store.size(); i++) {
            if (store.traitsOf(i).role() == Role.DUMMY) {
                store.get(i, polygon);
                sums.add(polygon);
            }
        }
    }

    /** Spelt by hand and in another unit each: what stands around the dummies is the file as it was, to the byte. */
    @ParameterizedTest
    @CsvSource({"um, 1", "nm, 1000", "mm, 0.001", "m, 0.000001"})
    void a_collection_keeps_every_byte_and_the_dummies_stand_behind_its_features(
            String unit, double perMicrometre, @TempDir Path folder) throws IOException {
        String square = "[[[0,0],[" + perMicrometre + ",0],[" + perMicrometre + "," + perMicrometre + "],[0.0e0,"
                + perMicrometre + "],[0,0]]]";
        String head = "{ \"name\": \"wells, \u00e4lter\", \"type\": \"FeatureCollection\",\n \"units\": \"" + unit
                + "\", \"features\": [\n  ";
        String feature =
                "{\"type\": \"Feature\", \"id\": \"w7\", \"layer\": 12, \"properties\": {\"depth\": \"300 nm\","
                        + " \"owner\": [1, {\"b\": null}]}, \"geometry\": {\"type\": \"Polygon\", \"coordinates\": "
                        + square
                        + "}}";
        String tail = "], \"grid\": 0.005, \"made\": {\"by\": \"hand\"}\n}\n\n";
        for (String features : List.of(feature, "")) {
            Path file = Files.writeString(folder.resolve("layout.geojson"), head + features + "\n " + tail);
            LayoutFile layout = LayoutFile.open(file, new ReadOptions(null, null, ReadOptions.Policy.SKIP));
            PolygonStore read = new PolygonStore();
            layout.forEach(() -> read::add, 1, "reading", new Progress());
            FreeSites sites = Stamps.survey(RULES, List.of());
            DummyFiles files = new DummyFiles(folder.resolve("dummies.geojson"), folder.resolve("merged.geojson"));
            double[] asked = sites.capacitySquareMetres();
            Placement placement = files.write(layout, sites, asked, new Progress());

            String merged = Files.readString(files.merged());
            assertThat(merged).startsWith(head + features + "\n ").endsWith(tail);
            PolygonStore again = read(files.merged());
            assertThat(again.size()).isEqualTo(read.size() + (int) placement.dummies());
            CoverageSums sums = new CoverageSums(8, 8, -Stamps.HALF, -Stamps.HALF, 25e-6);
            sum(again, sums);
            double[] measured = sums.coverage();
            for (int i = 0; i < measured.length; i++) {
                double placed = placement.placedSquareMetres()[i];
                assertThat(measured[i] * 625e-12).isCloseTo(placed, within(1e-9 * placed + 1e-20));
            }
        }
    }

    @Test
    void what_was_stopped_leaves_nothing_behind(@TempDir Path folder) throws IOException {
        FreeSites sites = Stamps.survey(RULES, List.of());
        DummyFiles files = new DummyFiles(folder.resolve("a.geojson"), folder.resolve("b.geojson"));
        Progress stopped = new Progress();
        stopped.cancel();
        assertThatThrownBy(() -> files.write(Polygons.store(List.of()), sites, sites.capacitySquareMetres(), stopped))
                .isInstanceOf(CancelledException.class);
        try (Stream<Path> left = Files.list(folder)) {
            assertThat(left).isEmpty();
        }
    }
}
