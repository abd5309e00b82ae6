package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions.Around;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.locationtech.jts.index.strtree.STRtree;

/** A layout stepped over the stamp is as if all its copies had been drawn. */
class SteppedLayoutTest {
    private static final double UM = 1e-6;
    /** Extent of a drawn die. */
    private static final double SIDE = 80;

    private static final double PITCH = 10;

    static LongStream seeds() {
        return LongStream.range(0, 12);
    }

    /** Stars, an array of small squares, and a texture, in a die of {@link #SIDE}; no edge on a line between tiles or between the cells of pictures, where rounding decides. */
    private static List<PackedPolygon> die(long seed) {
        List<PackedPolygon> polygons = new ArrayList<>();
        Polygons.stars(seed, 4, SIDE * 0.7).forEach(star -> polygons.add(Polygons.mapped(star, UM, 0, 0, 0, UM, 0)));
        polygons.add(Polygons.with(
                Polygons.mapped(Polygons.of(Polygons.rectangle(60, 2, 61.5, 3.7)), UM, 0, 0, 0, UM, 0),
                new Traits(220e-9, null, new Repeat(5, 9, 4 * UM, 5 * UM), null)));
        polygons.add(Polygons.with(
                Polygons.mapped(Polygons.of(Polygons.rectangle(3.3, 60.4, 50.6, 78.77)), UM, 0, 0, 0, UM, 0),
                new Traits(
                        null,
                        null,
                        null,
                        new Texture(Texture.Kind.LINES, 0.5 * UM, 0.2 * UM, 0.3, Texture.Lattice.SQUARE))));
        return polygons;
    }

    private static DieArray array(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        // Half of the arrays step by whole tiles, the others never meet the tiles twice in the same way.
        boolean whole = seed % 2 == 0;
        double stepX = whole ? 100 : 93.7;
        double stepY = whole ? 90 : 88.3;
        int columns = random.nextInt(2, 6);
        int rows = random.nextInt(2, 5);
        return new DieArray(
                columns,
                rows,
                stepX * UM,
                stepY * UM,
                random.nextDouble(0, 9) * UM,
                0,
                new Outline(0, 0, SIDE * UM, SIDE * UM),
                List.of(new DieArray.Places(2, 1)),
                List.of(
                        new DieArray.Turn(new DieArray.Places(0, 2), 2),
                        new DieArray.Turn(new DieArray.Places(1, 2), random.nextInt(4))));
    }

    private static MapOptions options(
            @Nullable DieArray array, @Nullable Outline stamp, Structure structure, Around around) {
        return new MapOptions(Drawn.CAVITIES, 150e-9, stamp, PITCH * UM, structure, around, List.of(), array, 2);
    }

    /** Every copy as polygons of their own, made without the tool's poses. */
    private static List<PackedPolygon> copies(List<PackedPolygon> die, DieArray array) {
        List<PackedPolygon> all = new ArrayList<>();
        for (int row = 1; row <= array.rows(); row++) {
            for (int column = 1; column <= array.columns(); column++) {
                if (column == 2 && row == 1) {
                    continue;
                }
                AffineTransformation move = move(array, column, row);
                double[] m = move.getMatrixEntries();
                for (PackedPolygon polygon : die) {
                    PackedPolygon copy = Polygons.mapped(polygon, m[0], m[1], m[2], m[3], m[4], m[5]);
                    Repeat repeat = polygon.traits.repeat();
                    Texture texture = polygon.traits.texture();
                    if (texture != null) {
                        double angle = texture.angleRadians() + Math.atan2(m[3], m[0]);
                        copy.traits = new Traits(
                                null,
                                null,
                                null,
                                new Texture(
                                        texture.kind(),
                                        texture.pitchMetres(),
                                        texture.widthMetres(),
                                        angle,
                                        texture.lattice()));
                    }
                    if (repeat == null) {
                        all.add(copy);
                        continue;
                    }
                    boolean upright = Math.abs(m[0]) > 0.5;
                    copy.traits = new Traits(
                            polygon.traits.depthMetres(),
                            null,
                            upright
                                    ? new Repeat(
                                            repeat.columns(),
                                            repeat.rows(),
                                            m[0] * repeat.dxMetres(),
                                            m[4] * repeat.dyMetres())
                                    : new Repeat(
                                            repeat.rows(),
                                            repeat.columns(),
                                            m[1] * repeat.dyMetres(),
                                            m[3] * repeat.dxMetres()),
                            null);
                    all.add(copy);
                }
            }
        }
        return all;
    }

    private static AffineTransformation move(DieArray array, int column, int row) {
        int turns = 0;
        for (DieArray.Turn turn : array.turned()) {
            boolean here = (turn.places().column() == 0 || turn.places().column() == column)
                    && turn.places().row() == row;
            turns = here ? turn.quarterTurns() : turns;
        }
        AffineTransformation move =
                AffineTransformation.rotationInstance(turns * Math.PI / 2, SIDE / 2 * UM, SIDE / 2 * UM);
        move.translate(
                array.offsetXMetres() + (column - 1) * array.stepXMetres(),
                array.offsetYMetres() + (row - 1) * array.stepYMetres());
        return move;
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void cavity_area_of_every_tile_is_that_of_affine_copies(long seed) {
        List<PackedPolygon> die = die(seed);
        die.removeIf(polygon -> polygon.traits.texture() != null); // it covers, and is no cavity as a whole
        DieArray array = array(seed);
        TileMap map = new TileMapper(options(array, null, Structure.ESTIMATED, Around.CLOSED))
                .map(Polygons.store(die), new Progress());
        GeometryFactory factory = new GeometryFactory();
        STRtree tree = new STRtree();
        for (PackedPolygon copy : copies(die, array)) {
            Repeat repeat = copy.traits.repeat();
            for (int i = 0; i < (repeat == null ? 1 : repeat.count()); i++) {
                Geometry shape = Polygons.jts(copy);
                if (repeat != null) {
                    int column = i % repeat.columns();
                    int row = i / repeat.columns();
                    shape = AffineTransformation.translationInstance(
                                    column * repeat.dxMetres(), row * repeat.dyMetres())
                            .transform(shape);
                }
                tree.insert(shape.getEnvelopeInternal(), shape);
            }
        }
        Field found = map.fields().get(TileFields.CAVITY_FRACTION);
        double covered = 0;
        for (int tile = 0; tile < found.grid().size(); tile++) {
            double x = found.grid().originXMetres() + found.grid().column(tile) * PITCH * UM;
            double y = found.grid().originYMetres() + found.grid().row(tile) * PITCH * UM;
            Envelope box = new Envelope(x, x + PITCH * UM, y, y + PITCH * UM);
            double area = 0;
            for (Object near : tree.query(box)) {
                area += ((Geometry) near).intersection(factory.toGeometry(box)).getArea();
            }
            assertThat(found.at(tile)).isCloseTo(area / (PITCH * UM * PITCH * UM), within(1e-8));
            covered += found.at(tile);
        }
        assertThat(covered).isGreaterThan(10);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void every_measure_is_that_of_copies_drawn_one_by_one(long seed) {
        List<PackedPolygon> die = die(seed);
        DieArray array = array(seed);
        Structure structure = seed % 3 == 0 ? Structure.ESTIMATED : Structure.SOLVED;
        Around around = List.of(Around.REPEATS, Around.CLOSED, Around.OPEN).get((int) (seed % 3));
        TileMap stepped =
                new TileMapper(options(array, null, structure, around)).map(Polygons.store(die), new Progress());
        TileMap drawn = new TileMapper(options(null, stepped.outline(), structure, around))
                .map(Polygons.store(copies(die, array)), new Progress());
        assertThat(stepped.fields().grid()).isEqualTo(drawn.fields().grid());
        for (Field expected : drawn.fields().all()) {
            Field found = stepped.fields().get(expected.name());
            double scale = 0;
            for (int tile = 0; tile < expected.grid().size(); tile++) {
                scale = expected.known(tile) ? Math.max(scale, Math.abs(expected.at(tile))) : scale;
            }
            for (int tile = 0; tile < expected.grid().size(); tile++) {
                assertThat(found.known(tile))
                        .as("%s known in tile %d", expected.name().id(), tile)
                        .isEqualTo(expected.known(tile));
                if (expected.known(tile)) {
                    assertThat(found.at(tile))
                            .as("%s in tile %d", expected.name().id(), tile)
                            .isCloseTo(expected.at(tile), within(1e-6 * scale));
                }
            }
        }
        assertThat(figure(stepped, "area.drawn"))
                .isCloseTo(figure(drawn, "area.drawn"), within(1e-9 * figure(drawn, "area.drawn")));
        assertThat(figure(stepped, "polygons.standing")).isEqualTo(figure(drawn, "polygons.standing"));
    }

    private static double figure(TileMap map, String id) {
        return map.figures().stream()
                .filter(figure -> figure.id().equals(id))
                .findFirst()
                .orElseThrow()
                .valueSi();
    }

    @Test
    void dies_that_meet_the_tiles_alike_are_measured_once() {
        double[] box = {0, 0, SIDE * UM, SIDE * UM};
        int small = inner(box, 5, 100);
        int large = inner(box, 20, 100);
        assertThat(large).isEqualTo(small);
        // Two phases along each axis are four dies to measure, and none more.
        assertThat(inner(box, 20, 95))
                .isEqualTo(inner(box, 6, 95))
                .isGreaterThan(small)
                .isLessThanOrEqualTo(4 * small);
    }

    /** Measured tiles but for those at the rim of the map. */
    private static int inner(double[] box, int along, double step) {
        List<Pose> poses = new ArrayList<>();
        for (int i = 0; i < along * along; i++) {
            int row = i / along;
            poses.add(new Pose(false, 0, (20 + i % along * step) * UM, (20 + row * step) * UM));
        }
        int tiles = (int) (along * step / PITCH) + 4;
        var grid = new org.evenstamp.shared.grid.TileGrid(0, 0, PITCH * UM, tiles, tiles);
        return AlikeTiles.of(grid, box, poses).count() - 4 * (tiles - 1);
    }

    @Test
    void lines_that_go_on_in_the_next_die_have_no_wall_at_the_rim() {
        List<PackedPolygon> line =
                List.of(Polygons.mapped(Polygons.of(Polygons.rectangle(0, 10, 40, 20)), UM, 0, 0, 0, UM, 0));
        DieArray array = new DieArray(3, 2, 40 * UM, 40 * UM, 0, 0, null, List.of(), List.of());
        TileMap map = new TileMapper(
                        options(array, new Outline(-10 * UM, 0, 130 * UM, 70 * UM), Structure.SOLVED, Around.CLOSED))
                .map(Polygons.store(line), new Progress());
        Field edges = map.fields().get(TileFields.EDGE_DENSITY);
        double length = 0;
        for (int tile = 0; tile < edges.grid().size(); tile++) {
            length += edges.at(tile) * PITCH * UM * PITCH * UM;
        }
        assertThat(length).isCloseTo(2 * (2 * 120 + 2 * 10) * UM, within(1e-12));
    }

    @Test
    void dies_on_one_another_are_one_problem_that_names_the_worst_pair() {
        DieArray array = new DieArray(
                3, 1, 70 * UM, 90 * UM, 0, 0, new Outline(0, 0, SIDE * UM, SIDE * UM), List.of(), List.of());
        assertThatThrownBy(() -> new TileMapper(options(array, null, Structure.ESTIMATED, Around.CLOSED))
                        .map(Polygons.store(die(1)), new Progress()))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("die 1,1 and die 2,1 overlap by 10.0000 x 80.0000 um")
                .satisfies(thrown ->
                        assertThat(((InputException) thrown).problems()).hasSize(1));
    }

    @Test
    void a_die_beyond_the_stamp_is_a_problem_and_one_across_its_rim_a_warning() {
        Outline die = new Outline(0, 0, SIDE * UM, SIDE * UM);
        Outline stamp = new Outline(0, 0, 220 * UM, SIDE * UM);
        TileMap cut = new TileMapper(options(
                        new DieArray(3, 1, 90 * UM, 90 * UM, 0, 0, die, List.of(), List.of()),
                        stamp,
                        Structure.ESTIMATED,
                        Around.CLOSED))
                .map(Polygons.store(die(1)), new Progress());
        assertThat(cut.dies().get(2).shareOn(stamp)).isCloseTo(0.5, within(1e-12));
        assertThat(cut.warnings())
                .anySatisfy(warning -> assertThat(warning.message()).contains("cuts 1 die of 3", "die 3,1", "50.0 %"));
        assertThatThrownBy(() -> new TileMapper(options(
                                new DieArray(4, 1, 90 * UM, 90 * UM, 0, 0, die, List.of(), List.of()),
                                stamp,
                                Structure.ESTIMATED,
                                Around.CLOSED))
                        .map(Polygons.store(die(1)), new Progress()))
                .hasMessageContaining("die 4,1 lies beyond the stamp");
    }

    @Test
    void chosen_tiles_are_the_same_for_every_die() {
        DieArray array = new DieArray(7, 5, 103 * UM, 206 * UM, 0, 0, null, List.of(), List.of());
        TileMap map = new TileMapper(new MapOptions(
                        Drawn.CAVITIES, 150e-9, null, null, Structure.ESTIMATED, Around.CLOSED, List.of(), array, 1))
                .map(Polygons.store(die(3)), new Progress());
        double perStep = 103 * UM / map.fields().grid().pitchMetres();
        assertThat(perStep).isCloseTo(Math.rint(perStep), within(1e-9));
    }
}
