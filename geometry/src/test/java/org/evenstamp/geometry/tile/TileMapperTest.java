package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions.Around;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Figure;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

class TileMapperTest extends PolygonMaps {
    /** A stamp 1 um wide and 1 mm long, half of it cut: one wrong coordinate makes such boxes, and tiles as large as their longer side. */
    @Test
    void a_stamp_much_smaller_than_a_tile_is_measured_or_refused_but_never_lost() {
        Outline sliver = new Outline(0, 0, UM, 1000 * UM);
        List<PackedPolygon> half = List.of(scaled(UM, Polygons.rectangle(0, 0, 0.5, 1000)));
        TileMap map = map(half, options(Drawn.CAVITIES, sliver, 0.7e-3, 1));
        double area = map.figures().stream()
                .filter(figure -> figure.id().equals("cavity.area"))
                .mapToDouble(Figure::valueSi)
                .sum();
        assertThat(area).isCloseTo(0.5e-9, within(1e-6 * 1e-9));
        assertThatThrownBy(() -> map(half, options(Drawn.CAVITIES, sliver, 1.5e-3, 1)))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("lost in the rounding")
                .hasMessageContaining("at most 500 um");
        assertThatCode(() -> map(half, options(Drawn.CAVITIES, sliver, 0.5e-3, 1)))
                .doesNotThrowAnyException();
    }

    /** A texture and the same pattern drawn line by line must measure alike, however fine the lines are for the tile. */
    @ParameterizedTest
    @MethodSource("linesPerTile")
    void textured_lines_measure_as_the_same_lines_drawn(int linesPerTile) {
        double pitch = 100.0 / linesPerTile;
        double width = 0.3 * pitch;
        Outline outline = new Outline(0, 0, 300 * UM, 300 * UM);
        List<PackedPolygon> lines = new ArrayList<>();
        for (int i = 0; i < 3 * linesPerTile; i++) {
            lines.add(scaled(UM, Polygons.rectangle((i + 0.2) * pitch, 0, (i + 0.2) * pitch + width, 300)));
        }
        TileMap drawn = map(lines, options(Drawn.CAVITIES, outline, 100 * UM, 2));
        TileMap textured = map(
                List.of(Polygons.with(
                        scaled(UM, Polygons.rectangle(0, 0, 300, 300)),
                        texture(new Texture(Texture.Kind.LINES, pitch * UM, width * UM, 0, Texture.Lattice.SQUARE)))),
                options(Drawn.CAVITIES, outline, 100 * UM, 2));
        int middle = 4;
        for (var name : List.of(
                TileFields.CAVITY_FRACTION,
                TileFields.CAVITY_VOLUME,
                TileFields.WALL_AREA,
                TileFields.SQUEEZE_MOMENT,
                TileFields.FLOW_PATH_MEAN,
                TileFields.FLOW_PATH_MAX,
                TileFields.PROTRUSION_WIDTH_MIN,
                TileFields.CAVITY_WIDTH_MIN)) {
            double expected = textured.fields().get(name).at(middle);
            assertThat(drawn.fields().get(name).at(middle) / expected)
                    .as(name.id())
                    .isCloseTo(1, within(name.id().startsWith("flow") ? 0.04 : 0.01));
        }
    }

    @Test
    void a_tile_knows_its_shallowest_and_its_deepest_cavity() {
        var outline = new MapOptions.Outline(0, 0, 300 * UM, 100 * UM);
        TileMap map = map(
                List.of(
                        Polygons.with(scaled(UM, Polygons.rectangle(10, 10, 20, 90)), role(Role.CAVITY, 80e-9)),
                        Polygons.with(scaled(UM, Polygons.rectangle(60, 10, 150, 90)), role(Role.CAVITY, 230e-9))),
                options(Drawn.CAVITIES, outline, 100 * UM, 1));
        var shallow = map.fields().get(TileFields.CAVITY_DEPTH_MIN);
        var deep = map.fields().get(TileFields.CAVITY_DEPTH_MAX);
        assertThat(shallow.at(0)).isEqualTo(80e-9);
        assertThat(deep.at(0)).isEqualTo(230e-9);
        assertThat(shallow.at(1)).isEqualTo(230e-9);
        assertThat(shallow.known(2)).isFalse();
        assertThat(deep.known(2)).isFalse();
    }

    static List<Integer> linesPerTile() {
        return List.of(2, 3, 5, 8, 20, 77);
    }

    @ParameterizedTest
    @EnumSource(
            value = Texture.Kind.class,
            names = {"HOLES", "PILLARS"})
    void textured_dots_measure_as_the_same_dots_drawn(Texture.Kind kind) {
        double pitch = 5;
        double diameter = 2.5;
        Outline outline = new Outline(0, 0, 300 * UM, 300 * UM);
        List<PackedPolygon> dots = List.of(Polygons.with(
                scaled(UM, Polygons.disc(pitch / 2, pitch / 2, diameter / 2, 64)),
                new Traits(null, null, new Repeat(60, 60, pitch * UM, pitch * UM), null)));
        Drawn drawnAs = kind == Texture.Kind.HOLES ? Drawn.CAVITIES : Drawn.PROTRUSIONS;
        TileMap drawn = map(dots, options(drawnAs, outline, 100 * UM, 2));
        TileMap textured = map(
                List.of(Polygons.with(
                        scaled(UM, Polygons.rectangle(0, 0, 300, 300)),
                        texture(new Texture(kind, pitch * UM, diameter * UM, 0, Texture.Lattice.SQUARE)))),
                options(drawnAs, outline, 100 * UM, 2));
        for (var name : List.of(
                TileFields.CAVITY_FRACTION,
                TileFields.CAVITY_VOLUME,
                TileFields.WALL_AREA,
                TileFields.SQUEEZE_MOMENT)) {
            double expected = textured.fields().get(name).at(4);
            assertThat(drawn.fields().get(name).at(4) / expected)
                    .as(name.id())
                    .isCloseTo(1, within(name.equals(TileFields.SQUEEZE_MOMENT) ? 0.03 : 0.005));
        }
    }

    /** Squeeze moment times tile area is three times Saint-Venant's torsion constant of the pad, wherever it lies in its tile. */
    @ParameterizedTest
    @MethodSource("seeds")
    void pad_in_a_tile_has_the_moment_of_its_torsion_constant(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double side = random.nextDouble(30, 50);
        double x = random.nextDouble(26, 74);
        double y = random.nextDouble(26, 74);
        PackedPolygon pad = scaled(UM, Polygons.rectangle(x - side / 2, y - side / 4, x + side / 2, y + side / 4));
        TileMap map = map(List.of(pad), options(Drawn.PROTRUSIONS, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));
        double torsionConstant = 0.228681677 * (side * UM) * Math.pow(side / 2 * UM, 3);
        assertThat(map.fields().get(TileFields.SQUEEZE_MOMENT).at(0) * 1e-8 / (3 * torsionConstant))
                .isCloseTo(1, within(0.03));
    }

    /** Oracle: JTS union of everything, then overlay with every tile. */
    @ParameterizedTest
    @MethodSource("seeds")
    void overlapping_and_abutting_features_count_once(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            // Whole numbers: many share edges or corners exactly.
            double x = random.nextInt(0, 36);
            double y = random.nextInt(0, 36);
            polygons.add(
                    random.nextInt(3) == 0
                            ? scaled(UM, Polygons.star(random, x, y, 5, 9))
                            : scaled(UM, Polygons.rectangle(x, y, x + random.nextInt(1, 8), y + random.nextInt(1, 8))));
        }
        TileMap map = map(polygons, options(Drawn.CAVITIES, new Outline(0, 0, 40 * UM, 40 * UM), 10 * UM, 2));
        Geometry union = OverlayNGRobust.union(
                polygons.stream().map(p -> (Geometry) Polygons.jts(p)).toList());
        double[] fraction = values(map, TileFields.CAVITY_FRACTION);
        double[] edge = values(map, TileFields.EDGE_DENSITY);
        GeometryFactory factory = new GeometryFactory();
        double[] lengths = new double[fraction.length];
        for (int i = 0; i < fraction.length; i++) {
            double x = i % 4 * 10 * UM;
            double y = i / 4 * 10 * UM;
            Geometry tile = factory.toGeometry(new Envelope(x, x + 10 * UM, y, y + 10 * UM));
            assertThat(fraction[i]).isCloseTo(union.intersection(tile).getArea() / 1e-10, within(1e-9));
            // Edges along the upper and right side of a tile are its neighbour's: compare with a tile shifted by a
            // hair.
            Geometry owned =
                    factory.toGeometry(new Envelope(x - 1e-13, x + 10 * UM - 1e-13, y - 1e-13, y + 10 * UM - 1e-13));
            lengths[i] = OverlayNGRobust.overlay(
                            union.getBoundary(), owned, org.locationtech.jts.operation.overlayng.OverlayNG.INTERSECTION)
                    .getLength();
        }
        giveToCavities(lengths, fraction);
        for (int i = 0; i < fraction.length; i++) {
            assertThat(edge[i] * 1e-10).isCloseTo(lengths[i], within(1e-11));
        }
    }

    @Test
    void protrusions_stand_in_cavities_and_change_nothing_elsewhere() {
        List<PackedPolygon> polygons = List.of(
                scaled(UM, Polygons.rectangle(10, 10, 60, 60)),
                Polygons.with(scaled(UM, Polygons.rectangle(50, 50, 80, 80)), role(Role.PROTRUSION, null)),
                Polygons.with(scaled(UM, Polygons.rectangle(20, 20, 30, 30)), role(Role.PROTRUSION, null)),
                Polygons.with(scaled(UM, Polygons.rectangle(90, 90, 95, 95)), role(Role.PROTRUSION, null)),
                Polygons.with(scaled(UM, Polygons.rectangle(0, 0, 100, 100)), role(Role.KEEPOUT, null)));
        TileMap map = map(polygons, options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));
        assertThat(map.fields().get(TileFields.CAVITY_FRACTION).at(0)).isCloseTo(0.25 - 0.01 - 0.01, within(1e-9));
        assertThat(map.fields().get(TileFields.EDGE_DENSITY).at(0) * 1e-8).isCloseTo(240 * UM, within(1e-12));
    }

    @Test
    void drawn_protrusions_leave_the_rest_of_the_stamp_as_cavity() {
        List<PackedPolygon> polygons = List.of(
                scaled(UM, Polygons.rectangle(10, 10, 60, 60)),
                scaled(UM, Polygons.rectangle(40, 40, 80, 80)),
                Polygons.with(scaled(UM, Polygons.rectangle(80, 10, 90, 20)), role(Role.CAVITY, 400e-9)));
        TileMap map = map(polygons, options(Drawn.PROTRUSIONS, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));
        double land = 0.25 + 0.16 - 0.04;
        assertThat(map.fields().get(TileFields.CAVITY_FRACTION).at(0)).isCloseTo(1 - land, within(1e-9));
        assertThat(map.fields().get(TileFields.CAVITY_VOLUME).at(0))
                .isCloseTo((1 - land - 0.01) * DEPTH + 0.01 * 400e-9, within(1e-15));
    }

    @Test
    void copies_of_an_array_that_overlap_count_once() {
        // 20 um squares every 10 um along x: one bar of 60 um; a second row apart from it; and one bar across a copy of
        // that.
        PackedPolygon array = Polygons.with(
                scaled(UM, Polygons.rectangle(10, 10, 30, 30)),
                new Traits(null, null, new Repeat(5, 1, 10 * UM, 0), null));
        PackedPolygon apart = Polygons.with(
                scaled(UM, Polygons.rectangle(10, 50, 15, 55)),
                new Traits(null, null, new Repeat(8, 3, 10 * UM, 10 * UM), null));
        PackedPolygon bar = scaled(UM, Polygons.rectangle(30, 52, 38, 54));
        TileMap map = map(
                List.of(array, apart, bar),
                options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));
        assertThat(map.fields().get(TileFields.CAVITY_FRACTION).at(0) * 1e4)
                .isCloseTo(60 * 20 + 24 * 25 + 3 * 2, within(1e-6));
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void order_threads_and_memory_leave_the_same_bits(long seed) {
        List<PackedPolygon> polygons = new ArrayList<>(Polygons.stars(seed, 12, 100));
        polygons.add(Polygons.of(Polygons.rectangle(20, 20, 45, 23)));
        polygons = polygons.stream()
                .map(p -> Polygons.mapped(p, UM, 0, 0, 0, UM, 0))
                .collect(java.util.stream.Collectors.toCollection(ArrayList::new));
        Outline outline = new Outline(0, 0, 100 * UM, 100 * UM);
        TileMap plain = map(polygons, options(Drawn.CAVITIES, outline, 12.5 * UM, 1));
        Collections.shuffle(polygons, new Random(seed));
        TileMap shuffled = map(polygons, options(Drawn.CAVITIES, outline, 12.5 * UM, 2));
        TileMap frugal = new TileMapper(options(Drawn.CAVITIES, outline, 12.5 * UM, 3), 20_000)
                .map(Polygons.store(polygons), new Progress());
        for (Field field : plain.fields().all()) {
            assertThat(values(shuffled, field.name())).as(field.name().id()).containsExactly(field.toArray());
        }
        for (var name : List.of(TileFields.CAVITY_FRACTION, TileFields.EDGE_DENSITY)) {
            if (frugal.warnings().stream().noneMatch(w -> w.code().equals("overlaps.not-merged"))) {
                assertThat(values(frugal, name)).containsExactly(values(plain, name));
            }
        }
    }

    @Test
    void mirrored_layout_has_the_mirrored_map() {
        List<PackedPolygon> polygons = Polygons.stars(5, 9, 100);
        List<PackedPolygon> mirrored = polygons.stream()
                .map(p -> Polygons.mapped(p, -UM, 0, 100 * UM, 0, UM, 0))
                .toList();
        List<PackedPolygon> plain = polygons.stream()
                .map(p -> Polygons.mapped(p, UM, 0, 0, 0, UM, 0))
                .toList();
        MapOptions options = options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 25 * UM, 1);
        TileMap a = map(plain, options);
        TileMap b = map(mirrored, options);
        double pictureCell = 25 * UM / 20;
        for (Field field : a.fields().all()) {
            if (field.name().id().endsWith("width.min")) {
                continue; // the tip of a star is a narrow place or a corner, as its cells happen to lie
            }
            // Lengths are known to a picture cell; which of two equally near walls a cell looks at is a matter of
            // order.
            boolean length = field.name().unit().symbol().equals("um");
            for (int row = 0; row < 4; row++) {
                for (int column = 0; column < 4; column++) {
                    double here = field.at(column, row);
                    assertThat(b.fields().get(field.name()).at(3 - column, row))
                            .as(field.name().id())
                            .isCloseTo(here, within(length ? pictureCell : 2e-3 * Math.abs(here)));
                }
            }
        }
    }

    /** A million copies, each rounded alike: the sum over the tiles differs by more than a billionth of it. */
    @Test
    void features_that_end_on_the_outline_are_not_said_to_lie_beyond_it() {
        double step = 20e-3 / 1000;
        PackedPolygon pad = Polygons.with(
                Polygons.of(Polygons.rectangle(0.63 * step, 0.05 * step, step, 0.95 * step)),
                new Traits(null, null, new Repeat(1000, 1000, step, step), null));
        TileMap map = new TileMapper(new MapOptions(
                        Drawn.CAVITIES,
                        DEPTH,
                        new Outline(0, 0, 20e-3, 20e-3),
                        1e-3,
                        Structure.ESTIMATED,
                        Around.CLOSED,
                        2))
                .map(Polygons.store(List.of(pad)), new Progress());
        assertThat(map.warnings()).isEmpty();
    }

    @Test
    void features_beyond_the_stamp_are_left_out_and_said() {
        TileMap map = map(
                List.of(scaled(UM, Polygons.rectangle(50, 50, 150, 100))),
                options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 30 * UM, 1));
        assertThat(map.warnings()).extracting(Finding.Warning::code).contains("layout.outside", "tiles.overhang");
        assertThat(map.figures())
                .filteredOn(f -> f.id().equals("area.outside"))
                .first()
                .satisfies(f -> assertThat(f.valueSi()).isCloseTo(30e-6 * 50e-6, within(1e-15)));
    }

    @Test
    void a_side_that_is_whole_but_for_rounding_reaches_beyond_nothing() {
        List<PackedPolygon> pad = List.of(scaled(UM, Polygons.rectangle(50, 50, 150, 100)));
        double third = 300 * UM / 3 * 1.0000000001;

        TileMap whole = map(pad, options(Drawn.CAVITIES, new Outline(0, 0, 300 * UM, 300 * UM), third, 1));
        TileMap over = map(pad, options(Drawn.CAVITIES, new Outline(0, 0, 300 * UM, 290 * UM), third, 1));

        assertThat(whole.warnings()).isEmpty();
        assertThat(over.warnings())
                .extracting(Finding.Warning::message)
                .singleElement()
                .asString()
                .contains("the last row by 10.00 um;")
                .doesNotContain("column");
    }

    @Test
    void tile_size_follows_the_layout_and_the_choice_is_explained() {
        PackedPolygon squares = Polygons.with(
                scaled(UM, Polygons.rectangle(4, 4, 14, 14)),
                new Traits(null, null, new Repeat(150, 100, 20 * UM, 20 * UM), null));
        TileMap map = map(List.of(squares), options(Drawn.CAVITIES, new Outline(0, 0, 3000 * UM, 2000 * UM), null, 2));
        double pitch = map.fields().grid().pitchMetres();
        assertThat(map.pitchReason()).isEqualTo("at least two mean feature pitches of 20.0 um");
        assertThat(pitch).isCloseTo(40 * UM, within(1e-12));
        assertThat(3000 * UM / pitch).isCloseTo(Math.rint(3000 * UM / pitch), within(1e-6));
        assertThat(2000 * UM / pitch).isCloseTo(Math.rint(2000 * UM / pitch), within(1e-6));
    }

    @Test
    void empty_layout_without_outline_is_refused_and_with_one_is_all_land() {
        assertThatThrownBy(() -> map(
                        List.of(), new MapOptions(Drawn.CAVITIES, DEPTH, null, null, Structure.AUTO, Around.CLOSED, 1)))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("layout.outline");
        TileMap map = map(List.of(), options(Drawn.CAVITIES, new Outline(0, 0, UM, UM), null, 1));
        assertThat(values(map, TileFields.CAVITY_FRACTION)).containsOnly(0);
        assertThat(map.fields().get(TileFields.FLOW_PATH_MAX).knownCount()).isZero();
    }

    @Test
    void too_many_tiles_are_refused_with_a_side_that_works() {
        assertThatThrownBy(() -> map(List.of(), options(Drawn.CAVITIES, new Outline(0, 0, 1, 1), UM, 1)))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("a side of 250 um or more");
    }

    /** The estimate is exact for gratings; for dots it is the rough guess it claims to be. */
    @Test
    void estimate_is_exact_for_gratings() {
        List<PackedPolygon> lines = new ArrayList<>();
        for (int i = 0; i < 30; i++) {
            lines.add(scaled(UM, Polygons.rectangle(10 * i + 2, 0, 10 * i + 6, 300)));
        }
        TileMap map = map(
                lines,
                new MapOptions(
                        Drawn.CAVITIES,
                        DEPTH,
                        new Outline(0, 0, 300 * UM, 300 * UM),
                        100 * UM,
                        Structure.ESTIMATED,
                        Around.CLOSED,
                        1));
        assertThat(map.fields().get(TileFields.SQUEEZE_MOMENT).at(4)).isCloseTo(0.6 * 36e-12, within(1e-15));
        assertThat(map.structureReason()).contains("estimated");
    }
}
