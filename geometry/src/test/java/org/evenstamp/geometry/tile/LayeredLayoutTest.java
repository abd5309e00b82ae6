package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.read.LayeredLayout;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.locationtech.jts.operation.union.UnaryUnionOp;

class LayeredLayoutTest {
    private static final double UM = 1e-6;
    private static final GeometryFactory JTS = new GeometryFactory();
    private static final MapOptions.Outline STAMP = new MapOptions.Outline(0, 0, 100 * UM, 100 * UM);

    @TempDir
    Path directory;

    private static ReadOptions.Assigned assigned(@Nullable Role role, @Nullable Double depth, Pose pose) {
        return new ReadOptions.Assigned(role, depth, 1, null, null, pose);
    }

    private static ReadOptions.Assigned region(String name, @Nullable Double weight) {
        return new ReadOptions.Assigned(Role.REGION, null, 1, name, weight, Pose.AS_DRAWN);
    }

    private LayoutFile file(String name, String text, ReadOptions.Assigned assigned) throws IOException {
        Path file = directory.resolve(name);
        Files.writeString(file, text);
        return LayoutFile.open(file, new ReadOptions(null, UM, ReadOptions.Policy.SKIP, assigned));
    }

    private static TileMap map(List<LayoutFile> files, int threads, RegionRule... rules) {
        MapOptions options = new MapOptions(
                MapOptions.Drawn.CAVITIES,
                200e-9,
                STAMP,
                10 * UM,
                MapOptions.Structure.ESTIMATED,
                MapOptions.Around.REPEATS,
                List.of(rules),
                null,
                threads);
        return new TileMapper(options).map(new LayeredLayout(files), new Progress());
    }

    private static String box(double x, double y, double w, double h) {
        return String.format(
                Locale.ROOT,
                "POLYGON ((%f %f, %f %f, %f %f, %f %f, %f %f))",
                x,
                y,
                x + w,
                y,
                x + w,
                y + h,
                x,
                y + h,
                x,
                y);
    }

    private static Geometry shape(double x, double y, double w, double h) {
        return JTS.toGeometry(new Envelope(x, x + w, y, y + h));
    }

    private static Geometry tile(int index) {
        int row = index / 10;
        return shape(index % 10 * 10.0, row * 10.0, 10, 10);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void every_layer_counts_with_its_role_depth_and_pose_as_its_moved_shapes_do(long seed) throws IOException {
        SplittableRandom random = new SplittableRandom(seed);
        List<LayoutFile> files = new ArrayList<>();
        List<Geometry> deep = new ArrayList<>();
        List<Geometry> shallow = new ArrayList<>();
        List<Geometry> land = new ArrayList<>();
        for (int layer = 0; layer < 4; layer++) {
            Pose pose = new Pose(random.nextBoolean(), random.nextInt(4), 50 * UM, (40 + random.nextInt(20)) * UM);
            AffineTransformation moved = new AffineTransformation();
            if (pose.mirroredX()) {
                moved.scale(-1, 1);
            }
            moved.rotate(pose.quarterTurns() * Math.PI / 2)
                    .translate(pose.shiftXMetres() / UM, pose.shiftYMetres() / UM);
            StringBuilder text = new StringBuilder();
            for (int i = 0; i < 6; i++) {
                double x = random.nextInt(-45, 40) + 0.5;
                double y = random.nextInt(-45, 40) + 0.25;
                double w = random.nextInt(1, 20);
                double h = random.nextInt(1, 20);
                text.append(box(x, y, w, h)).append('\n');
                (layer == 0 ? land : layer == 1 ? deep : shallow).add(moved.transform(shape(x, y, w, h)));
            }
            files.add(file(
                    "layer" + layer + ".wkt",
                    text.toString(),
                    assigned(
                            layer == 0 ? Role.PROTRUSION : Role.CAVITY,
                            layer == 1 ? Double.valueOf(600e-9) : null,
                            pose)));
        }
        Geometry high = UnaryUnionOp.union(land);
        Geometry low = UnaryUnionOp.union(deep).difference(high);
        Geometry rest = UnaryUnionOp.union(shallow).difference(high).difference(low);
        TileMap map = map(files, 3);
        TileMap alone = map(files, 1);

        Field volume = map.fields().get(TileFields.CAVITY_VOLUME);
        for (int i = 0; i < 100; i++) {
            double expected = 600e-9 * low.intersection(tile(i)).getArea() / 100
                    + 200e-9 * rest.intersection(tile(i)).getArea() / 100;
            assertThat(volume.at(i)).as("tile %d", i).isCloseTo(expected, within(1e-15));
            assertThat(alone.fields().get(TileFields.CAVITY_VOLUME).at(i)).isEqualTo(volume.at(i));
        }
    }

    @Test
    void a_keep_out_in_well_known_text_is_no_cavity() throws IOException {
        String cavities = box(0, 0, 40, 40) + "\n";
        LayoutFile drawn = file("cavities.wkt", cavities, assigned(null, null, Pose.AS_DRAWN));
        LayoutFile keepout = file("keepout.wkt", box(50, 50, 50, 50), assigned(Role.KEEPOUT, null, Pose.AS_DRAWN));

        Field fraction = map(List.of(drawn, keepout), 1).fields().get(TileFields.CAVITY_FRACTION);

        double sum = 0;
        for (double share : fraction.toArray()) {
            sum += share;
        }
        assertThat(sum).isCloseTo(16, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void a_drawn_region_fills_of_every_tile_what_the_union_of_its_polygons_does(long seed) throws IOException {
        SplittableRandom random = new SplittableRandom(seed);
        StringBuilder text = new StringBuilder();
        List<Geometry> shapes = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            double x = random.nextInt(-10, 90) + 0.125;
            double y = random.nextInt(-10, 90) + 0.5;
            double w = random.nextInt(1, 40);
            double h = random.nextInt(1, 40);
            text.append(box(x, y, w, h)).append('\n');
            shapes.add(shape(x, y, w, h));
        }
        Geometry union = UnaryUnionOp.union(shapes);
        LayoutFile cavities = file("cavities.wkt", box(1, 1, 3, 3), assigned(null, null, Pose.AS_DRAWN));
        LayoutFile optics = file("optics.wkt", text.toString(), region("optics", 2.0));

        NamedRegion region =
                map(List.of(cavities, optics), 2).fields().region("optics").orElseThrow();

        assertThat(region.weight()).isEqualTo(2);
        for (int i = 0; i < 100; i++) {
            assertThat(region.share(i))
                    .as("tile %d", i)
                    .isCloseTo(union.intersection(tile(i)).getArea() / 100, within(1e-9));
        }
    }

    @Test
    void regions_do_not_change_the_relief_or_the_extent_of_the_stamp() throws IOException {
        LayoutFile cavities = file("cavities.wkt", box(0, 0, 40, 40), assigned(null, null, Pose.AS_DRAWN));
        LayoutFile optics = file("optics.wkt", box(-20, -20, 500, 30), region("optics", null));
        MapOptions options = new MapOptions(
                MapOptions.Drawn.CAVITIES,
                200e-9,
                null,
                10 * UM,
                MapOptions.Structure.ESTIMATED,
                MapOptions.Around.REPEATS,
                1);
        TileMap without = new TileMapper(options).map(cavities, new Progress());
        TileMap with = new TileMapper(options).map(new LayeredLayout(List.of(cavities, optics)), new Progress());

        assertThat(with.fields().grid()).isEqualTo(without.fields().grid());
        without.fields()
                .all()
                .forEach(field -> assertThat(with.fields().get(field.name()).toArray())
                        .as(field.name().id())
                        .isEqualTo(field.toArray()));
        assertThat(with.warnings()).anyMatch(warning -> warning.code().equals("region.outside"));
    }

    @Test
    void what_the_features_cover_is_a_region_without_dummies_and_stands_last() throws IOException {
        String text = """
                {"type":"FeatureCollection","units":"um","features":[
                {"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[0,0],[5,0],[5,10],[0,10],[0,0]]]}},
                {"type":"Feature","properties":{"role":"dummy"},"geometry":{"type":"Polygon","coordinates":[[[20,0],[25,0],[25,10],[20,10],[20,0]]]}},
                {"type":"Feature","properties":{"role":"region","name":"b"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[30,0],[30,30],[0,30],[0,0]]]}},
                {"type":"Feature","properties":{"role":"region","name":"a","weight":0},"geometry":{"type":"Polygon","coordinates":[[[0,0],[30,0],[30,30],[0,30],[0,0]]]}}]}
                """;
        List<NamedRegion> regions = map(List.of(file("all.geojson", text, ReadOptions.Assigned.NOTHING)), 1)
                .fields()
                .regions();

        assertThat(regions).extracting(NamedRegion::name).containsExactly("a", "b", NamedRegion.FEATURES);
        assertThat(regions).extracting(NamedRegion::weight).containsExactly(0.0, 1.0, 1.0);
        assertThat(regions.get(2).share(0)).isCloseTo(0.5, within(1e-12));
        assertThat(regions.get(2).share(2)).isZero();
    }

    @Test
    void a_region_is_described_by_role_depth_and_box() throws IOException {
        LayoutFile shallow = file("a.wkt", box(0, 0, 20, 20), assigned(Role.CAVITY, null, Pose.AS_DRAWN));
        LayoutFile deep = file("b.wkt", box(50, 0, 20, 5), assigned(Role.CAVITY, 600e-9, Pose.AS_DRAWN));
        LayoutFile land = file("c.wkt", box(80, 80, 5, 5), assigned(Role.PROTRUSION, null, Pose.AS_DRAWN));
        MapOptions.Outline left = new MapOptions.Outline(-1, 0, 50 * UM, 15 * UM);
        TileMap map = map(
                List.of(shallow, deep, land),
                1,
                new RegionRule("deep", null, new RegionRule.Where(null, 600e-9, null)),
                new RegionRule("raised", 3.0, new RegionRule.Where(Role.PROTRUSION, null, null)),
                new RegionRule("left", null, new RegionRule.Where(null, null, left)),
                new RegionRule("wells", null, new RegionRule.Where(Role.CAVITY, 200e-9, left)));

        assertThat(area(map, "deep")).isCloseTo(100, within(1e-6));
        assertThat(area(map, "raised")).isCloseTo(25, within(1e-6));
        assertThat(area(map, "left")).isCloseTo(750, within(1e-6));
        assertThat(area(map, "wells")).isCloseTo(300, within(1e-6));
    }

    private static double area(TileMap map, String region) {
        return map.fields()
                        .region(region)
                        .orElseThrow()
                        .areaSquareMetres(map.fields().grid())
                / UM
                / UM;
    }

    @Test
    void everything_that_is_wrong_with_regions_is_told_at_once() throws IOException {
        LayoutFile cavities = file("a.wkt", box(0, 0, 20, 20), assigned(null, null, Pose.AS_DRAWN));
        LayoutFile away = file("b.wkt", box(500, 0, 20, 5), region("away", 0.0));
        LayoutFile zero = file("c.wkt", box(0, 0, 20, 5), region("zero", 0.0));

        InputException e = catchThrowableOfType(
                InputException.class,
                () -> map(
                        List.of(cavities, away, zero),
                        1,
                        new RegionRule("nobody", null, null),
                        new RegionRule("zero", null, new RegionRule.Where(Role.CAVITY, null, null)),
                        new RegionRule("none", 0.0, new RegionRule.Where(Role.DUMMY, null, null)),
                        new RegionRule("wells", 0.0, new RegionRule.Where(Role.CAVITY, null, null))));

        assertThat(e.problems())
                .extracting(Problem::code)
                .containsExactly("region.missing", "region.twice", "region.empty", "region.empty", "region.no-weight");
    }

    @Test
    void polygons_of_a_region_have_one_weight() throws IOException {
        LayoutFile cavities = file("a.wkt", box(0, 0, 20, 20), assigned(null, null, Pose.AS_DRAWN));
        LayoutFile one = file("b.wkt", box(0, 0, 20, 5), region("optics", 1.0));
        LayoutFile two = file("c.wkt", box(50, 0, 20, 5), region("optics", 2.0));

        InputException e = catchThrowableOfType(InputException.class, () -> map(List.of(cavities, one, two), 1));

        assertThat(e.problems()).extracting(Problem::code).containsExactly("region.weights");
    }

    @Test
    void features_whose_role_is_none_are_refused_in_all_files_at_once_with_their_lines() throws IOException {
        String wrong = "role,wkt\nkeep-out,\"" + box(0, 0, 1, 1) + "\"\ncavity,\"" + box(5, 5, 1, 1) + "\"\n";
        LayoutFile one = file("a.csv", wrong, ReadOptions.Assigned.NOTHING);
        LayoutFile two = file("b.csv", wrong.replace("keep-out", "hole"), ReadOptions.Assigned.NOTHING);

        InputException e = catchThrowableOfType(InputException.class, () -> map(List.of(one, two), 1));

        assertThat(e.problems()).extracting(Problem::code).containsExactly("layout.role", "layout.role");
        assertThat(e.problems().get(0).source().toString()).endsWith("a.csv:2:1");
        assertThat(e.problems().get(1).message()).contains("role \"hole\" is none of");
    }
}
