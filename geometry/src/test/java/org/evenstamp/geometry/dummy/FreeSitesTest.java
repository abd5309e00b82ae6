package org.evenstamp.geometry.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class FreeSitesTest {
    private static final double UM = Stamps.UM;
    private static final double HALF = Stamps.HALF;
    private static final DummyRules TWO =
            Stamps.rules(DummyShape.square(3 * UM), DummyShape.square(1 * UM), DummyRules.Arrangement.STAGGERED);

    @Test
    void bare_land_takes_a_dummy_on_every_site() {
        // Squares of 2 um every 3 um: 8 fit into a tile of 25 um, and nowhere nearer to the rim than 3 um.
        FreeSites sites = Stamps.survey(Stamps.rules(), List.of());
        double[] capacity = sites.capacitySquareMetres();
        assertThat(capacity[Stamps.GRID.index(3, 3)]).isCloseTo(64 * 4e-12, within(1e-24));
        assertThat(capacity[Stamps.GRID.index(0, 3)]).isCloseTo(56 * 4e-12, within(1e-24));
        assertThat(capacity[Stamps.GRID.index(0, 7)]).isCloseTo(49 * 4e-12, within(1e-24));
        assertThat(sites.count()).isEqualTo(36 * 64 + 24 * 56 + 4 * 49);
    }

    @Test
    void a_covered_stamp_takes_none() {
        PackedPolygon all = Polygons.of(Polygons.rectangle(-HALF, -HALF, HALF, HALF));
        FreeSites sites = Stamps.survey(TWO, List.of(all));
        assertThat(sites.count()).isZero();
        assertThat(sites.capacitySquareMetres()).containsOnly(0);
        Placement placement = sites.place(
                Stamps.everywhere(1e-12),
                dummy -> {
                    throw new AssertionError("a dummy where nothing is free");
                },
                new Progress());
        assertThat(placement.dummies()).isZero();
        assertThat(placement.warnings()).isEmpty();
    }

    @Test
    void a_hole_of_a_cavity_is_a_pad() {
        PackedPolygon ring = Polygons.of(
                Polygons.rectangle(-60 * UM, -60 * UM, 60 * UM, 60 * UM),
                Polygons.rectangle(-50 * UM, -50 * UM, 50 * UM, 50 * UM));
        int middle = Stamps.GRID.index(4, 4);
        FreeSites closed = Stamps.survey(Stamps.rules(), List.of(ring));
        assertThat(closed.capacitySquareMetres()[middle]).isZero();
        FreeSites open = Stamps.survey(Stamps.insidePads(Stamps.rules(), Stamps.CAVITIES), List.of(ring));
        assertThat(open.capacitySquareMetres()[middle]).isCloseTo(64 * 4e-12, within(1e-24));
    }

    @Test
    void protrusions_stand_in_drawn_cavities_alone_and_say_what_they_are() {
        PackedPolygon pool = Polygons.of(
                Polygons.rectangle(-60 * UM, -60 * UM, 60 * UM, 60 * UM), Polygons.rectangle(0, 0, 25 * UM, 25 * UM));
        FreeSites sites = Stamps.survey(Stamps.insidePads(Stamps.rules(), Stamps.PROTRUSIONS), List.of(pool));
        assertThat(sites.capacitySquareMetres()[Stamps.GRID.index(3, 3)]).isCloseTo(64 * 4e-12, within(1e-24));
        assertThat(sites.capacitySquareMetres()[Stamps.GRID.index(4, 4)]).isZero();
        assertThat(sites.capacitySquareMetres()[0]).isZero();
        assertThat(Stamps.fill(sites)).allMatch(dummy -> dummy.traits.role() == Role.PROTRUSION);
    }

    @Test
    void a_texture_takes_no_dummies_of_either_sense() {
        var lines = new Texture(Texture.Kind.LINES, 0.4 * UM, 0.2 * UM, 0, Texture.Lattice.SQUARE);
        PackedPolygon field = Polygons.with(
                Polygons.of(Polygons.rectangle(0, 0, 25 * UM, 25 * UM)), new Traits(null, null, null, lines));
        for (var sense : MapOptions.Drawn.values()) {
            FreeSites sites = new DummyPlacer(
                            Stamps.insidePads(Stamps.rules(), sense), Stamps.PROTRUSIONS, Stamps.OUTLINE, Stamps.GRID)
                    .survey(Polygons.store(List.of(field)), 1, new Progress());
            assertThat(sites.capacitySquareMetres()[Stamps.GRID.index(4, 4)]).isZero();
            boolean onBareGround = sense == Stamps.PROTRUSIONS;
            assertThat(sites.count() > 0).isEqualTo(onBareGround);
        }
    }

    @Test
    void area_is_counted_as_it_is_measured_afterwards() {
        for (DummyShape shape : List.of(
                DummyShape.square(2 * UM),
                DummyShape.disc(2 * UM),
                DummyShape.line(0.7 * UM, 3.3333 * UM),
                DummyShape.cross(3 * UM, 1 * UM))) {
            for (long seed = 0; seed < 10; seed++) {
                DummyRules rules = Stamps.rules(shape, DummyShape.square(0.5 * UM), DummyRules.Arrangement.HEXAGONAL);
                FreeSites sites = Stamps.survey(rules, Stamps.layout(seed));
                double[] asked = random(seed, 300e-12);
                CoverageSums measured = new CoverageSums(8, 8, -HALF, -HALF, 25 * UM);
                Placement placement = sites.place(asked, measured::add, new Progress());
                double[] coverage = measured.coverage();
                double[] placed = placement.placedSquareMetres();
                double[] capacity = sites.capacitySquareMetres();
                double dummy = shape.widthMetres() * shape.heightMetres();
                for (int i = 0; i < placed.length; i++) {
                    double tile = Stamps.GRID.tileAreaSquareMetres();
                    assertThat(coverage[i] * tile).isCloseTo(placed[i], within(1e-9 * placed[i] + 1e-14 * tile));
                    assertThat(placed[i]).isCloseTo(Math.min(asked[i], capacity[i]), within(dummy * (1 + 1e-9)));
                }
            }
        }
    }

    private static double[] random(long seed, double most) {
        SplittableRandom random = new SplittableRandom(seed);
        return random.doubles(Stamps.GRID.size(), 0, most).toArray();
    }

    @Test
    void all_of_the_capacity_can_be_had_and_no_more() {
        FreeSites sites = Stamps.survey(TWO, Stamps.layout(5));
        double[] capacity = sites.capacitySquareMetres();
        assertThat(sites.place(capacity, dummy -> {}, new Progress()).placedSquareMetres())
                .containsExactly(capacity);
        Placement more = sites.place(Stamps.everywhere(1e-9), dummy -> {}, new Progress());
        assertThat(more.placedSquareMetres()).containsExactly(capacity);
        assertThat(more.dummies()).isEqualTo(sites.count());
        assertThat(more.isShort(0)).isTrue();
        assertThat(more.warnings())
                .singleElement()
                .satisfies(warning -> assertThat(warning.message()).contains("64 tiles"));
    }

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void more_area_never_takes_a_dummy_away(boolean symmetric) {
        DummyRules rules = symmetric ? Stamps.symmetric(TWO) : TWO;
        for (long seed = 0; seed < 10; seed++) {
            FreeSites sites = Stamps.survey(rules, Stamps.layout(seed));
            double[] asked = random(seed, 100e-12);
            Set<List<Long>> before = new HashSet<>();
            for (int round = 0; round < 4; round++) {
                Set<List<Long>> now = spelt(Stamps.place(sites, asked), 1, 1);
                assertThat(now).containsAll(before);
                before = now;
                double[] more = random(seed + 50 + round, 60e-12);
                for (int i = 0; i < asked.length; i++) {
                    asked[i] += more[i];
                }
            }
        }
    }

    @Test
    void tiles_do_not_matter_to_each_other() {
        FreeSites sites = Stamps.survey(TWO, Stamps.layout(3));
        double[] asked = random(1, 200e-12);
        Set<List<Long>> together = spelt(Stamps.place(sites, asked), 1, 1);
        Set<List<Long>> oneByOne = new HashSet<>();
        for (int tile = 0; tile < asked.length; tile++) {
            double[] one = new double[asked.length];
            one[tile] = asked[tile];
            oneByOne.addAll(spelt(Stamps.place(sites, one), 1, 1));
        }
        assertThat(oneByOne).isEqualTo(together);
    }

    enum Mirror {
        LEFT_RIGHT(-1, 1),
        UP_DOWN(1, -1),
        BOTH(-1, -1);

        private final int x;
        private final int y;

        Mirror(int x, int y) {
            this.x = x;
            this.y = y;
        }
    }

    @ParameterizedTest
    @EnumSource(Mirror.class)
    void a_mirrored_layout_gets_mirrored_dummies(Mirror mirror) {
        for (DummyRules.Arrangement arrangement : DummyRules.Arrangement.values()) {
            for (long seed = 0; seed < 8; seed++) {
                // Seven tiles a side: the middle ones are mirrored onto themselves.
                TileGrid grid = new TileGrid(-HALF, -HALF, 2 * HALF / 7, 7, 7);
                DummyRules rules =
                        Stamps.symmetric(Stamps.rules(DummyShape.disc(3 * UM), DummyShape.disc(1 * UM), arrangement));
                DummyPlacer placer = new DummyPlacer(rules, Stamps.CAVITIES, Stamps.OUTLINE, grid);
                List<PackedPolygon> layout = Stamps.layout(seed).stream()
                        .filter(polygon -> polygon.traits.repeat() == null)
                        .toList();
                List<PackedPolygon> mirrored = layout.stream()
                        .map(polygon -> Polygons.mapped(polygon, mirror.x, 0, 0, 0, mirror.y, 0))
                        .toList();
                double[] asked = Arrays.copyOf(random(seed, 250e-12), grid.size());
                double[] askedMirrored = new double[grid.size()];
                for (int i = 0; i < asked.length; i++) {
                    int column = mirror.x < 0 ? 6 - grid.column(i) : grid.column(i);
                    int row = mirror.y < 0 ? 6 - grid.row(i) : grid.row(i);
                    askedMirrored[grid.index(column, row)] = asked[i];
                }
                Set<List<Long>> one = spelt(
                        Stamps.place(placer.survey(Polygons.store(layout), 1, new Progress()), asked),
                        mirror.x,
                        mirror.y);
                Set<List<Long>> other = spelt(
                        Stamps.place(placer.survey(Polygons.store(mirrored), 1, new Progress()), askedMirrored), 1, 1);
                assertThat(other).isNotEmpty().isEqualTo(one);
            }
        }
    }

    /** Dummies by the corners of their boxes in steps of 0.1 nm, mirrored or not. */
    private static Set<List<Long>> spelt(List<PackedPolygon> dummies, int x, int y) {
        Set<List<Long>> corners = new HashSet<>();
        double[] box = new double[4];
        for (PackedPolygon dummy : dummies) {
            dummy.box(box);
            long x0 = x * Math.round(box[0] * 1e10);
            long x1 = x * Math.round(box[2] * 1e10);
            long y0 = y * Math.round(box[1] * 1e10);
            long y1 = y * Math.round(box[3] * 1e10);
            corners.add(List.of(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)));
        }
        assertThat(corners).hasSameSizeAs(dummies);
        return corners;
    }

    @Test
    void threads_and_the_size_of_bands_leave_the_bytes_alone() throws IOException {
        for (long seed = 0; seed < 5; seed++) {
            List<PackedPolygon> layout = Stamps.layout(seed);
            double[] asked = random(seed, 300e-12);
            byte[] expected = written(Stamps.survey(TWO, layout), asked);
            assertThat(written(
                            new DummyPlacer(TWO, Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID)
                                    .survey(Polygons.store(layout), 2, new Progress()),
                            asked))
                    .isEqualTo(expected);
            for (long sites : new long[] {1, 20_000}) {
                FreeSites banded = new DummyPlacer(TWO, Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID, sites)
                        .survey(Polygons.store(layout), 2, new Progress());
                assertThat(written(banded, asked)).isEqualTo(expected);
            }
        }
    }

    /** Large dummies near the border of a row of tiles keep small ones off on its other side, whichever rows are looked at together. */
    @Test
    void small_dummies_see_the_large_ones_beyond_a_band() {
        for (int tenth = 16; tenth <= 40; tenth += 3) {
            DummyRules rules = Stamps.rules(
                    DummyShape.square(tenth * 0.1 * UM), DummyShape.square(0.5 * UM), DummyRules.Arrangement.STAGGERED);
            double[] whole = Stamps.survey(rules, List.of()).capacitySquareMetres();
            double[] banded = new DummyPlacer(rules, Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID, 1)
                    .survey(Polygons.store(List.of()), 1, new Progress())
                    .capacitySquareMetres();
            assertThat(banded).as("large dummies of %s um", tenth * 0.1).containsExactly(whole);
        }
    }

    private static byte[] written(FreeSites sites, double[] asked) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (LayoutWriter writer = new LayoutWriter(bytes, LayoutWriter.Format.GEOJSON)) {
            sites.place(asked, writer, new Progress());
        }
        return bytes.toByteArray();
    }

    @Test
    void few_dummies_are_spread_as_evenly_as_many() {
        // 16 of 64 sites of a tile: about 4 in every quarter, whichever tile it is.
        FreeSites sites = Stamps.survey(Stamps.rules(), List.of());
        List<PackedPolygon> dummies = Stamps.place(sites, Stamps.everywhere(16 * 4e-12));
        int[] inQuarter = new int[4 * Stamps.GRID.size()];
        for (PackedPolygon dummy : dummies) {
            int column = (int) ((dummy.xy[0] + UM + HALF) / (12.5 * UM));
            int row = (int) ((dummy.xy[1] + UM + HALF) / (12.5 * UM));
            inQuarter[row * 16 + column]++;
        }
        for (int row = 2; row < 14; row++) {
            for (int column = 2; column < 14; column++) {
                assertThat(inQuarter[row * 16 + column]).isBetween(3, 5);
            }
        }
    }

    @Test
    void what_a_tile_is_given_too_much_its_neighbours_are_given_too_little() {
        FreeSites sites = Stamps.survey(Stamps.rules(), List.of());
        for (double share : new double[] {0.1, 0.25, 0.5, 3.3}) {
            Placement placement = sites.place(Stamps.everywhere(share * 4e-12), dummy -> {}, new Progress());
            assertThat((double) placement.dummies()).isCloseTo(64 * share, within(2.0));
        }
    }

    @Test
    void areas_that_make_no_sense_are_refused() {
        FreeSites sites = Stamps.survey(Stamps.rules(), List.of());
        for (double area : new double[] {-1e-12, Double.NaN, Double.POSITIVE_INFINITY}) {
            double[] asked = Stamps.everywhere(0);
            asked[7] = area;
            assertThatIllegalArgumentException().isThrownBy(() -> sites.place(asked, dummy -> {}, new Progress()));
        }
        assertThatIllegalArgumentException().isThrownBy(() -> sites.place(new double[3], dummy -> {}, new Progress()));
    }

    @Test
    void a_wish_to_stop_is_heard() {
        FreeSites sites = Stamps.survey(Stamps.rules(), List.of());
        Progress progress = new Progress();
        org.assertj.core.api.Assertions.assertThatThrownBy(
                        () -> sites.place(sites.capacitySquareMetres(), dummy -> progress.cancel(), progress))
                .isInstanceOf(CancelledException.class);
    }
}
