package org.evenstamp.geometry.coverage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;

class CoverageSumsTest {
    static LongStream seeds() {
        return LongStream.range(0, 100);
    }

    private static CoverageSums sums(int columns, int rows, double pitch, List<PackedPolygon> polygons) {
        CoverageSums sums = new CoverageSums(columns, rows, 0, 0, pitch);
        polygons.forEach(sums::add);
        return sums;
    }

    /** Oracle: JTS overlay of every polygon with every tile, JTS 1.20 (general-purpose geometry library). */
    @ParameterizedTest
    @MethodSource("seeds")
    void area_and_edge_length_agree_with_overlay_of_every_tile(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int columns = random.nextInt(1, 7);
        int rows = random.nextInt(1, 7);
        double pitch = random.nextDouble(0.5, 2);
        // The polygons reach beyond the grid on all sides, and some are larger than it.
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            polygons.add(Polygons.of(Polygons.star(
                    random,
                    random.nextDouble(-1, columns * pitch + 1),
                    random.nextDouble(-1, rows * pitch + 1),
                    random.nextDouble(0.1, 4),
                    random.nextInt(3, 30))));
        }
        double[] expectedArea = new double[columns * rows];
        double[] expectedLength = new double[columns * rows];
        GeometryFactory factory = new GeometryFactory();
        for (PackedPolygon polygon : polygons) {
            Polygon jts = Polygons.jts(polygon);
            for (int i = 0; i < expectedArea.length; i++) {
                int column = i % columns;
                int row = i / columns;
                var tile = factory.toGeometry(
                        new Envelope(column * pitch, (column + 1) * pitch, row * pitch, (row + 1) * pitch));
                expectedArea[i] += jts.intersection(tile).getArea() / (pitch * pitch);
                expectedLength[i] += jts.getBoundary().intersection(tile).getLength() / pitch;
            }
        }

        CoverageSums sums = sums(columns, rows, pitch, polygons);

        assertThat(sums.coverage()).containsExactly(expectedArea, within(1e-11));
        assertThat(sums.edgeLength()).containsExactly(expectedLength, within(1e-10));
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void order_and_partition_of_the_input_leave_the_same_bits(long seed) {
        List<PackedPolygon> polygons = Polygons.stars(seed, 6, 7);
        CoverageSums inOrder = sums(9, 8, 0.77, polygons);
        List<PackedPolygon> shuffled = new ArrayList<>(polygons);
        Collections.shuffle(shuffled, new Random(seed));
        CoverageSums first = sums(9, 8, 0.77, shuffled.subList(0, 10));
        first.merge(sums(9, 8, 0.77, shuffled.subList(10, shuffled.size())));

        assertThat(first.coverage()).containsExactly(inOrder.coverage());
        assertThat(first.edgeLength()).containsExactly(inOrder.edgeLength());
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void four_quarter_tiles_sum_to_the_tile(long seed) {
        List<PackedPolygon> polygons = Polygons.stars(seed, 5, 8);
        double[] whole = sums(8, 8, 1, polygons).coverage();
        double[] wholeLength = sums(8, 8, 1, polygons).edgeLength();
        double[] quarter = sums(16, 16, 0.5, polygons).coverage();
        double[] quarterLength = sums(16, 16, 0.5, polygons).edgeLength();
        for (int row = 0; row < 8; row++) {
            for (int column = 0; column < 8; column++) {
                int q = 2 * row * 16 + 2 * column;
                assertThat((quarter[q] + quarter[q + 1] + quarter[q + 16] + quarter[q + 17]) / 4)
                        .isCloseTo(whole[row * 8 + column], within(1e-12));
                assertThat((quarterLength[q] + quarterLength[q + 1] + quarterLength[q + 16] + quarterLength[q + 17])
                                / 2)
                        .isCloseTo(wholeLength[row * 8 + column], within(1e-10));
            }
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void mirror_turn_and_shift_by_a_pitch_commute_with_measuring(long seed) {
        int n = 8;
        List<PackedPolygon> polygons = Polygons.stars(seed, 5, n);
        double[] plain = sums(n, n, 1, polygons).coverage();
        double[] mirrored = sums(
                        n,
                        n,
                        1,
                        polygons.stream()
                                .map(p -> Polygons.mapped(p, -1, 0, n, 0, 1, 0))
                                .toList())
                .coverage();
        double[] turned = sums(
                        n,
                        n,
                        1,
                        polygons.stream()
                                .map(p -> Polygons.mapped(p, 0, -1, n, 1, 0, 0))
                                .toList())
                .coverage();
        double[] shifted = sums(
                        n,
                        n,
                        1,
                        polygons.stream()
                                .map(p -> Polygons.mapped(p, 1, 0, 2, 0, 1, 1))
                                .toList())
                .coverage();
        for (int row = 0; row < n; row++) {
            for (int column = 0; column < n; column++) {
                double here = plain[row * n + column];
                assertThat(mirrored[row * n + n - 1 - column]).isCloseTo(here, within(1e-12));
                assertThat(turned[column * n + n - 1 - row]).isCloseTo(here, within(1e-12));
                if (column + 2 < n && row + 1 < n) {
                    assertThat(shifted[(row + 1) * n + column + 2]).isCloseTo(here, within(1e-12));
                }
            }
        }
    }

    /** Pick's theorem (1899): area of a lattice polygon = interior points + boundary points / 2 - 1. */
    @ParameterizedTest
    @MethodSource("seeds")
    void lattice_polygons_obey_picks_theorem(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int size = 12;
        double[] ring;
        Polygon jts;
        do {
            ring = Polygons.star(random, 6, 6, 6, random.nextInt(3, 10));
            for (int i = 0; i < ring.length; i++) {
                ring[i] = Math.rint(ring[i]);
            }
            jts = Polygons.jts(Polygons.of(ring));
        } while (!jts.isValid() || jts.getArea() == 0);
        long boundary = 0;
        for (int i = 0; i < ring.length; i += 2) {
            int j = (i + 2) % ring.length;
            boundary += gcd(Math.round(Math.abs(ring[j] - ring[i])), Math.round(Math.abs(ring[j + 1] - ring[i + 1])));
        }
        long interior = 0;
        for (int x = 0; x <= size; x++) {
            for (int y = 0; y <= size; y++) {
                if (jts.contains(new GeometryFactory().createPoint(new org.locationtech.jts.geom.Coordinate(x, y)))) {
                    interior++;
                }
            }
        }
        double total = 0;
        for (double share : sums(size, size, 1, List.of(Polygons.of(ring))).coverage()) {
            total += share;
        }
        assertThat(total).isCloseTo(interior + boundary / 2.0 - 1, within(1e-10));
    }

    private static long gcd(long a, long b) {
        return b == 0 ? a : gcd(b, a % b);
    }

    /** Example of RFC 7946, appendix A.3: a square of side 1 with a hole of side 0.6. */
    @Test
    void polygon_with_hole_of_rfc_7946_has_the_area_worked_by_hand() {
        double[] outer = Polygons.rectangle(100, 0, 101, 1);
        double[] hole = Polygons.rectangle(100.2, 0.2, 100.8, 0.8);
        for (double[] turned : List.of(hole, Polygons.reversed(hole))) {
            CoverageSums sums = new CoverageSums(1, 1, 100, 0, 1);
            sums.add(Polygons.of(outer, turned));
            assertThat(sums.coverage()[0]).isCloseTo(0.64, within(1e-12));
        }
    }

    @Test
    void polygon_that_covers_everything_covers_every_tile_exactly_once() {
        CoverageSums sums = new CoverageSums(5, 4, 0, 0, 1);
        sums.add(Polygons.of(new double[] {-3.3, -7.1, 30.7, -5.2, 29.3, 40.1, -11.9, 33}));
        assertThat(sums.coverage()).containsOnly(1.0);
        assertThat(sums.edgeLength()).containsOnly(0.0);
    }

    @Test
    void huge_and_far_polygons_neither_wrap_nor_leak() {
        CoverageSums sums = new CoverageSums(3, 3, 0, 0, 1e-6);
        sums.add(Polygons.of(Polygons.rectangle(-1e5, -1e5, 1e5, 1e5)));
        sums.add(Polygons.of(Polygons.rectangle(5e5, 5e5, 9e5, 9e5)));
        sums.add(Polygons.of(Polygons.rectangle(-9e5, -9e5, -5e5, -5e5)));
        assertThat(sums.coverage()).containsOnly(1.0);
    }

    @Test
    void edges_on_tile_boundaries_belong_to_the_tile_above_or_to_the_right() {
        CoverageSums sums = new CoverageSums(3, 3, 0, 0, 1);
        sums.add(Polygons.of(Polygons.rectangle(1, 1, 2, 2)));
        assertThat(sums.coverage()).containsExactly(0, 0, 0, 0, 1, 0, 0, 0, 0);
        // left and lower edge in the middle tile, right edge in its right neighbour, upper edge in its upper one
        assertThat(sums.edgeLength()).containsExactly(0, 0, 0, 0, 2, 1, 0, 1, 0);
    }
}
