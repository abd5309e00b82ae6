package org.evenstamp.geometry.write;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the writer writes, the reader of this module takes back. */
class WriteReadTest {
    private static final Traits[] TRAITS = {
        Traits.NONE,
        new Traits(230e-9, null, null, null),
        new Traits(null, Role.KEEPOUT, null, null),
        new Traits(null, Role.DUMMY, new Repeat(12, 7, 8e-6, -9.5e-6), null),
        new Traits(
                1.25e-7,
                Role.CAVITY,
                null,
                new Texture(Texture.Kind.HOLES, 600e-9, 0.3e-6, Math.toRadians(15), Texture.Lattice.HEXAGONAL))
    };

    private static List<PackedPolygon> squaresWithHoles(long seed, boolean traits) {
        SplittableRandom random = new SplittableRandom(seed);
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < 200; i++) {
            PackedPolygon polygon = new PackedPolygon();
            double x = i * 50e-6;
            double y = random.nextDouble(-1e-3, 1e-3);
            double half = random.nextDouble(5e-6, 20e-6);
            int rings = random.nextInt(1, 3);
            for (int ring = 0; ring < rings; ring++) {
                double a = ring == 0 ? half : half / 3;
                double[] corners = {x - a, y - a, x + a, y - a, x + a, y + a, x - a, y + a};
                System.arraycopy(corners, 0, polygon.xy, 8 * ring, corners.length);
                polygon.endRing(4 * ring + 4);
            }
            polygon.traits = traits ? TRAITS[random.nextInt(TRAITS.length)] : Traits.NONE;
            polygons.add(polygon);
        }
        return polygons;
    }

    @ParameterizedTest
    @ValueSource(strings = {"a.geojson", "a.ndjson", "a.wkt", "a.geojson.gz", "a.ndjson.gz", "a.wkt.gz"})
    void the_same_polygons_come_back_with_their_traits(String name, @TempDir Path folder) throws IOException {
        boolean wkt = name.contains("wkt");
        boolean saysUnit = name.contains("geojson");
        List<PackedPolygon> written = squaresWithHoles(name.hashCode(), !wkt);
        Path file = folder.resolve(name);
        try (LayoutWriter writer = LayoutWriter.create(file)) {
            written.forEach(writer::accept);
        }

        // Only a GeoJSON document has a place for the unit, and then it must bring its own.
        LayoutFile layout =
                LayoutFile.open(file, new ReadOptions(null, saysUnit ? null : 1e-6, ReadOptions.Policy.SKIP));
        List<PackedPolygon> read = new ArrayList<>();
        layout.forEach(() -> polygon -> read.add(copy(polygon)), 1, "reading", new Progress());
        read.sort(Comparator.comparingDouble(polygon -> polygon.xy[0]));

        assertThat(read).hasSameSizeAs(written);
        for (int i = 0; i < read.size(); i++) {
            PackedPolygon expected = written.get(i);
            PackedPolygon actual = read.get(i);
            assertThat(actual.rings).isEqualTo(expected.rings);
            assertThat(actual.vertices()).isEqualTo(expected.vertices());
            for (int ring = 0; ring < actual.rings; ring++) {
                // Side 2a with each corner moved by at most 0.05 nm: twice the area 8 a^2 moves by less than 16 a *
                // 0.05 nm.
                double area = Math.abs(expected.twiceSignedArea(ring));
                assertThat(Math.abs(actual.twiceSignedArea(ring))).isCloseTo(area, within(16 * 20e-6 * 0.0501e-9));
            }
            sameTraits(actual.traits, expected.traits);
        }
    }

    private static void sameTraits(Traits actual, Traits expected) {
        assertThat(actual)
                .usingRecursiveComparison()
                .withComparatorForType(WriteReadTest::compareToElevenDigits, Double.class)
                .isEqualTo(expected);
    }

    private static int compareToElevenDigits(Double a, Double b) {
        return Math.abs(a - b) <= 1e-11 * Math.abs(b) ? 0 : Double.compare(a, b);
    }

    private static PackedPolygon copy(PackedPolygon polygon) {
        PackedPolygon copy = new PackedPolygon();
        copy.xy = polygon.xy.clone();
        copy.ringEnd = polygon.ringEnd.clone();
        copy.rings = polygon.rings;
        copy.traits = polygon.traits;
        return copy;
    }
}
