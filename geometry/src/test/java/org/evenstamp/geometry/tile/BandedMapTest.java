package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A map put together from bands is the map that is measured in one piece. */
class BandedMapTest {
    private static final double TILE = 10e-6;

    private static void add(PolygonStore store, Traits traits, double... xy) {
        PackedPolygon polygon = new PackedPolygon();
        polygon.clear();
        polygon.ensureVertices(xy.length / 2);
        for (int i = 0; i < xy.length; i++) {
            polygon.xy[i] = xy[i] * 1e-6;
        }
        polygon.endRing(xy.length / 2);
        polygon.traits = traits;
        polygon.chunk = 0;
        polygon.ordinal = store.size();
        polygon.line = store.size() + 1L;
        store.add(polygon);
    }

    /** Slanted quadrilaterals of two depths, many of which overlap or stand on a line between tiles, and one long bar. */
    private static PolygonStore layout(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        PolygonStore store = new PolygonStore();
        Traits deep = new Traits(2e-7, seed % 2 == 0 ? Role.CAVITY : null, null, null);
        for (int i = 0; i < 160; i++) {
            double x = random.nextDouble(120);
            double y = random.nextInt(4) == 0 ? 10 * random.nextInt(16) : random.nextDouble(160);
            double w = 0.5 + random.nextDouble(6);
            double h = 0.5 + random.nextDouble(6);
            double s = random.nextBoolean() ? 0 : random.nextDouble(2);
            add(store, i % 3 == 0 ? deep : Traits.NONE, x, y, x + w, y + s, x + w + s, y + h + s, x + s, y + h);
        }
        add(store, Traits.NONE, 131, 0, 132, 0, 132, 167, 131, 167);
        return store;
    }

    private static MapOptions options(MapOptions.Drawn drawn, MapOptions.Structure structure) {
        return new MapOptions(drawn, 1e-7, null, TILE, structure, MapOptions.Around.REPEATS, 1);
    }

    private static TileMap banded(PolygonStore layout, MapOptions options, int bands) throws IOException {
        Progress progress = new Progress();
        Survey.Totals totals = halves(layout).stream()
                .map(half -> Survey.of(half, traits -> true, 0, 1, progress).totals())
                .reduce(Survey.Totals::plus)
                .orElseThrow();
        BandedMap map = new BandedMap(options, totals, bands, 1, progress);
        int count = map.spec().bands();
        List<PolygonStore> merged = new ArrayList<>();
        for (int band = 0; band < count; band++) {
            ByteArrayOutputStream bytes = new ByteArrayOutputStream();
            BandWorker worker = BandWorker.merging(map.spec(), band, needed(layout, map.spec(), band), progress);
            worker.sum(new DataOutputStream(bytes));
            map.takeSums(band, in(bytes));
            ByteArrayOutputStream polygons = new ByteArrayOutputStream();
            worker.writePolygons(new DataOutputStream(polygons));
            merged.add(new PolygonStore());
            merged.get(band).addWritten(in(polygons));
        }
        byte[] shared = map.shared();
        for (int band = count - 1; band >= 0; band--) {
            ByteArrayOutputStream bytes = new ByteArrayOutputStream();
            BandWorker.merged(map.spec(), band, merged.get(band), progress).look(shared, new DataOutputStream(bytes));
            map.takeLook(band, in(bytes));
        }
        return map.map();
    }

    private static DataInputStream in(ByteArrayOutputStream bytes) {
        return new DataInputStream(new ByteArrayInputStream(bytes.toByteArray()));
    }

    private static List<PolygonStore> halves(PolygonStore layout) {
        PolygonStore one = new PolygonStore();
        PolygonStore two = new PolygonStore();
        PackedPolygon polygon = new PackedPolygon();
        for (int i = 0; i < layout.size(); i++) {
            layout.get(i, polygon);
            PolygonStore half = i < layout.size() / 3 ? one : two;
            polygon.ordinal = half.size();
            half.add(polygon);
        }
        return List.of(one, two);
    }

    /** What a worker gets: what its band needs, written and read. */
    private static PolygonStore needed(PolygonStore layout, BandSpec spec, int band) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        DataOutputStream out = new DataOutputStream(bytes);
        double[] box = new double[4];
        layout.forEach(
                () -> (PolygonSink) polygon -> {
                    polygon.box(box);
                    if (spec.needs(band, box)) {
                        write(polygon, out);
                    }
                },
                1,
                "writing",
                new Progress());
        PolygonStore polygons = new PolygonStore();
        polygons.addWritten(in(bytes));
        return polygons;
    }

    private static void write(PackedPolygon polygon, DataOutputStream out) {
        try {
            PolygonStore.write(polygon, out);
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static void assertSame(TileMap expected, TileMap found) {
        assertThat(found.fields().all()).hasSameSizeAs(expected.fields().all());
        for (Field field : expected.fields().all()) {
            Field other = found.fields().find(field.name().id()).orElseThrow();
            for (int i = 0; i < field.grid().size(); i++) {
                assertThat(Double.doubleToLongBits(other.known(i) ? other.at(i) : -1))
                        .as("%s in tile %d", field.name().id(), i)
                        .isEqualTo(Double.doubleToLongBits(field.known(i) ? field.at(i) : -1));
            }
        }
        assertThat(found.figures()).isEqualTo(expected.figures());
        assertThat(found.structureReason()).isEqualTo(expected.structureReason());
        assertThat(found.pitchReason()).isEqualTo(expected.pitchReason());
        assertThat(found.warnings()).isEqualTo(expected.warnings());
        assertThat(found.outline()).isEqualTo(expected.outline());
    }

    @ParameterizedTest
    @CsvSource({
        "1, 3, CAVITIES, SOLVED",
        "2, 8, CAVITIES, SOLVED",
        "3, 17, PROTRUSIONS, SOLVED",
        "4, 5, CAVITIES, ESTIMATED",
        "5, 1, CAVITIES, AUTO",
        "6, 4, PROTRUSIONS, ESTIMATED"
    })
    void a_map_of_bands_is_the_same_to_the_last_bit(
            long seed, int bands, MapOptions.Drawn drawn, MapOptions.Structure structure) throws IOException {
        PolygonStore layout = layout(seed);
        MapOptions options = options(drawn, structure);

        assertSame(new TileMapper(options).map(layout, new Progress()), banded(layout, options, bands));
    }

    @Test
    void features_that_hang_together_over_more_rows_than_a_band_sees_are_refused() {
        PolygonStore layout = new PolygonStore();
        for (int i = 0; i < 16; i++) {
            add(layout, Traits.NONE, 5, 10 * i, 6, 10 * i, 6, 10 * i + 11, 5, 10 * i + 11); // a chain
        }
        assertThatThrownBy(() -> banded(layout, options(MapOptions.Drawn.CAVITIES, MapOptions.Structure.AUTO), 4))
                .hasMessageContaining("hang together over more rows of tiles than a band sees");
    }
}
