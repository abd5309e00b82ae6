package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Predicate;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.shared.field.TileFields;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/** What a map says of features of several depths and roles. */
class DepthsAndRolesTest extends PolygonMaps {
    @Test
    void where_depths_overlap_the_deepest_counts_and_their_common_wall_counts_once() {
        List<PackedPolygon> polygons = List.of(
                scaled(UM, Polygons.rectangle(10, 10, 60, 60)),
                Polygons.with(scaled(UM, Polygons.rectangle(40, 10, 90, 60)), role(Role.CAVITY, 400e-9)));
        TileMap map = map(polygons, options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));
        assertThat(map.fields().get(TileFields.CAVITY_FRACTION).at(0)).isCloseTo(0.4, within(1e-9));
        assertThat(map.fields().get(TileFields.CAVITY_VOLUME).at(0))
                .isCloseTo(0.15 * DEPTH + 0.25 * 400e-9, within(1e-15));
        // Outline of both together 80 x 50, and the step between them, 50 long and 250 nm high.
        assertThat(map.fields().get(TileFields.EDGE_DENSITY).at(0) * 1e-8).isCloseTo(310 * UM, within(1e-12));
        double walls = 110 * UM * DEPTH + 150 * UM * 400e-9 + 50 * UM * (400e-9 - DEPTH);
        assertThat(map.fields().get(TileFields.WALL_AREA).at(0) * 1e-8).isCloseTo(walls, within(1e-18));
        assertThat(map.regions()).extracting(Region::mostDepthMetres).containsExactly(0.0, DEPTH, 400e-9);
        assertThat(map.regions().get(0).share(0)).isCloseTo(0.6, within(1e-9));
        assertThat(map.regions().get(1).share(0)).isCloseTo(0.15, within(1e-9));
        assertThat(map.regions().get(2).share(0)).isCloseTo(0.25, within(1e-9));
    }

    /** Oracle: JTS, of the whole outline and of the deeper cavity's edge within the shallower one. */
    @ParameterizedTest
    @MethodSource("seeds")
    void the_common_wall_of_two_depths_counts_once_however_it_lies(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        PackedPolygon shallow = scaled(UM, Polygons.star(random, 45, 45, 40, 9));
        PackedPolygon deep = Polygons.with(scaled(UM, Polygons.star(random, 55, 55, 40, 9)), role(Role.CAVITY, 4e-7));
        TileMap map = map(
                List.of(shallow, deep), options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));

        double step = Polygons.jts(deep)
                .getBoundary()
                .intersection(Polygons.jts(shallow))
                .getLength();
        double outline = union(List.of(shallow, deep), p -> true).getLength();
        assertThat(map.fields().get(TileFields.EDGE_DENSITY).at(0) * 1e-8).isCloseTo(outline + step, within(1e-12));
    }

    @ParameterizedTest
    @EnumSource(Drawn.class)
    void regions_fill_the_stamp_and_of_many_depths_the_smallest_are_put_together(Drawn drawn) {
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            polygons.add(Polygons.with(
                    scaled(UM, Polygons.rectangle(10 * i + 1, 1, 10 * i + 2 + 0.4 * i, 9)),
                    role(Role.CAVITY, (i + 1) * 10e-9)));
        }
        polygons.add(Polygons.with(
                scaled(UM, Polygons.rectangle(0, 20, 200, 30)),
                texture(new Texture(Texture.Kind.LINES, 2 * UM, UM, 0, Texture.Lattice.SQUARE))));
        polygons.add(Polygons.with(scaled(UM, Polygons.rectangle(0, 40, 200, 50)), role(Role.PROTRUSION, null)));
        TileMap map = map(polygons, options(drawn, new Outline(0, 0, 200 * UM, 70 * UM), 50 * UM, 1));

        List<Region> regions =
                map.regions().stream().filter(region -> region.role() == null).toList();
        assertThat(regions).hasSize(13);
        Region rest = regions.get(12);
        assertThat(rest.leastDepthMetres()).isEqualTo(10e-9);
        assertThat(rest.mostDepthMetres()).isBetween(80e-9, 110e-9);
        double land = regions.get(0).tiles() * 2500;
        assertThat(land)
                .isCloseTo(
                        drawn == Drawn.CAVITIES ? 200 * 70 - 1000 - 20 * 8 - 8 * 0.4 * 190 : 2000 + 1000, within(1e-3));
        assertThat(regions.stream().mapToDouble(Region::tiles).sum() * 2500).isCloseTo(200 * 70, within(1e-3));
    }

    /** Oracle: JTS unions role by role in the order of precedence, then overlay with every tile. */
    @ParameterizedTest
    @MethodSource("seeds")
    void every_role_has_the_area_its_features_cover_and_their_common_edges_are_no_edges(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        Drawn drawn = seed % 2 == 0 ? Drawn.CAVITIES : Drawn.PROTRUSIONS;
        Role own = drawn == Drawn.CAVITIES ? Role.CAVITY : Role.PROTRUSION;
        // Of protrusions in a layout of cavities the land wins; else the layout's own features win over dummies.
        List<Role> precedence = drawn == Drawn.CAVITIES
                ? List.of(Role.PROTRUSION, Role.CAVITY, Role.DUMMY)
                : List.of(Role.PROTRUSION, Role.DUMMY);
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            double x = random.nextInt(0, 36);
            double y = random.nextInt(0, 36);
            PackedPolygon shape = random.nextInt(3) == 0
                    ? scaled(UM, Polygons.star(random, x, y, 5, 9))
                    : scaled(UM, Polygons.rectangle(x, y, x + random.nextInt(1, 8), y + random.nextInt(1, 8)));
            Role role = precedence.get(random.nextInt(precedence.size()));
            boolean unsaid = role == own && random.nextBoolean();
            polygons.add(unsaid ? shape : Polygons.with(shape, role(role, null)));
        }
        Outline outline = new Outline(0, 0, 40 * UM, 40 * UM);
        TileMap map = map(polygons, options(drawn, outline, 10 * UM, 1));
        TileMap threaded = map(polygons, options(drawn, outline, 10 * UM, 3));

        List<Region> regions =
                map.regions().stream().filter(region -> region.role() != null).toList();
        assertThat(regions)
                .extracting(Region::role)
                .containsExactlyElementsOf(precedence.stream().sorted().toList());
        GeometryFactory factory = new GeometryFactory();
        Geometry claimed = factory.createPolygon();
        for (Role role : precedence) {
            Geometry union = union(polygons, p -> p.traits.role() == role || (p.traits.role() == null && role == own));
            Geometry rest = OverlayNGRobust.overlay(union, claimed, OverlayNG.DIFFERENCE);
            claimed = OverlayNGRobust.overlay(claimed, union, OverlayNG.UNION);
            Region region = regions.stream()
                    .filter(one -> one.role() == role)
                    .findFirst()
                    .orElseThrow();
            for (int i = 0; i < 16; i++) {
                Geometry tile = factory.toGeometry(tile(i));
                assertThat(region.share(i))
                        .as(role + " in tile " + i)
                        .isCloseTo(
                                OverlayNGRobust.overlay(rest, tile, OverlayNG.INTERSECTION)
                                                .getArea()
                                        / 1e-10,
                                within(1e-9));
            }
        }
        Geometry relief = union(polygons, p -> drawn == Drawn.PROTRUSIONS || p.traits.role() != Role.PROTRUSION);
        if (drawn == Drawn.CAVITIES) {
            relief = OverlayNGRobust.overlay(
                    relief, union(polygons, p -> p.traits.role() == Role.PROTRUSION), OverlayNG.DIFFERENCE);
        }
        double[] lengths = new double[16];
        for (int i = 0; i < 16; i++) {
            Envelope owned = tile(i);
            owned.translate(-1e-13, -1e-13);
            lengths[i] = OverlayNGRobust.overlay(
                            relief.getBoundary(), factory.toGeometry(owned), OverlayNG.INTERSECTION)
                    .getLength();
        }
        giveToCavities(lengths, values(map, TileFields.CAVITY_FRACTION));
        for (int i = 0; i < 16; i++) {
            double length = lengths[i];
            assertThat(map.fields().get(TileFields.EDGE_DENSITY).at(i) * 1e-10).isCloseTo(length, within(1e-11));
            assertThat(map.fields().get(TileFields.WALL_AREA).at(i) * 1e-10)
                    .isCloseTo(length * DEPTH, within(1e-11 * DEPTH));
            for (int r = 0; r < map.regions().size(); r++) {
                assertThat(threaded.regions().get(r).share(i))
                        .isEqualTo(map.regions().get(r).share(i));
            }
        }
    }

    private static Geometry union(List<PackedPolygon> polygons, Predicate<PackedPolygon> which) {
        return OverlayNGRobust.union(polygons.stream()
                .filter(which)
                .map(p -> (Geometry) Polygons.jts(p))
                .toList());
    }

    private static Envelope tile(int i) {
        double x = i % 4 * 10 * UM;
        double y = i / 4 * 10 * UM;
        return new Envelope(x, x + 10 * UM, y, y + 10 * UM);
    }

    @Test
    void a_role_covers_its_textures_as_a_whole_and_knows_its_depths() {
        List<PackedPolygon> polygons = List.of(
                Polygons.with(scaled(UM, Polygons.rectangle(0, 0, 20, 20)), role(Role.DUMMY, 80e-9)),
                Polygons.with(scaled(UM, Polygons.rectangle(30, 0, 40, 20)), role(Role.DUMMY, null)),
                Polygons.with(scaled(UM, Polygons.rectangle(0, 90, 100, 100)), role(Role.KEEPOUT, null)),
                Polygons.with(
                        scaled(UM, Polygons.rectangle(0, 30, 100, 50)),
                        texture(new Texture(Texture.Kind.LINES, 2 * UM, 0.5 * UM, 0, Texture.Lattice.SQUARE))));
        TileMap map = map(polygons, options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));

        List<Region> roles =
                map.regions().stream().filter(region -> region.role() != null).toList();
        assertThat(roles).extracting(Region::role).containsExactly(Role.CAVITY, Role.DUMMY);
        assertThat(roles.get(0).share(0)).isCloseTo(0.2, within(1e-12));
        assertThat(roles.get(1).share(0)).isCloseTo(0.06, within(1e-12));
        assertThat(roles.get(1).leastDepthMetres()).isEqualTo(80e-9);
        assertThat(roles.get(1).mostDepthMetres()).isEqualTo(DEPTH);
    }

    @Test
    void a_layout_of_one_role_has_no_regions_by_role() {
        List<PackedPolygon> polygons = List.of(
                scaled(UM, Polygons.rectangle(10, 10, 60, 60)),
                Polygons.with(scaled(UM, Polygons.rectangle(70, 10, 90, 60)), role(Role.CAVITY, null)),
                Polygons.with(scaled(UM, Polygons.rectangle(0, 0, 100, 100)), role(Role.KEEPOUT, null)));
        TileMap map = map(polygons, options(Drawn.CAVITIES, new Outline(0, 0, 100 * UM, 100 * UM), 100 * UM, 1));

        assertThat(map.regions()).extracting(Region::role).containsOnlyNulls();
    }
}
