package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions.Drawn;
import org.evenstamp.geometry.tile.MapOptions.Outline;
import org.evenstamp.geometry.tile.MapOptions.Structure;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.algorithm.Angle;
import org.locationtech.jts.algorithm.MinimumDiameter;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineSegment;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.buffer.BufferParameters;
import org.locationtech.jts.operation.distance.DistanceOp;

class WidthMapperTest {
    private static final double UM = 1e-6;
    private static final GeometryFactory FACTORY = new GeometryFactory();

    static LongStream seeds() {
        return LongStream.range(0, 12);
    }

    private static TileMap map(List<PackedPolygon> polygons, Drawn drawn, double side, double pitch, int threads) {
        return map(polygons, drawn, side, pitch, threads, Structure.ESTIMATED, 1L << 30);
    }

    private static TileMap map(
            List<PackedPolygon> polygons,
            Drawn drawn,
            double side,
            double pitch,
            int threads,
            Structure structure,
            long memory) {
        return new TileMapper(
                        new MapOptions(
                                drawn,
                                1e-7,
                                new Outline(0, 0, side * UM, side * UM),
                                pitch * UM,
                                structure,
                                MapOptions.Around.CLOSED,
                                threads),
                        memory)
                .map(Polygons.store(polygons), new Progress());
    }

    private static double[] widths(TileMap map, FieldName name) {
        Field field = map.fields().get(name);
        double[] values = field.toArray();
        for (int i = 0; i < values.length; i++) {
            values[i] = field.known(i) ? values[i] / UM : Double.NaN;
        }
        return values;
    }

    private static PackedPolygon micrometres(PackedPolygon polygon) {
        return Polygons.mapped(polygon, UM, 0, 0, 0, UM, 0);
    }

    private static PackedPolygon packed(Geometry polygon) {
        Coordinate[] ring = polygon.getCoordinates();
        double[] xy = new double[2 * (ring.length - 1)];
        for (int i = 0; i + 1 < ring.length; i++) {
            xy[2 * i] = ring[i].x;
            xy[2 * i + 1] = ring[i].y;
        }
        return Polygons.of(xy);
    }

    /** Twelve lines of 5 um on tiles of 200 um: four of them in each of three rows, where a picture's cells are 10 um. */
    @Test
    void lines_much_narrower_than_a_tile_have_their_own_width_in_every_tile() {
        List<PackedPolygon> lines = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            double y = 100 + 200 * (i / 4) + 15 * (i % 4);
            lines.add(micrometres(Polygons.of(Polygons.rectangle(0, y, 2000, y + 5))));
        }
        TileMap map = map(lines, Drawn.CAVITIES, 2000, 200, 1, Structure.SOLVED, 1L << 30);
        double[] cavity = widths(map, TileFields.CAVITY_WIDTH_MIN);
        double[] protrusion = widths(map, TileFields.PROTRUSION_WIDTH_MIN);
        for (int tile = 0; tile < 30; tile++) {
            assertThat(cavity[tile]).isCloseTo(5, within(1e-9));
            assertThat(protrusion[tile]).isCloseTo(10, within(1e-9));
        }
        for (int tile = 40; tile < 100; tile++) {
            assertThat(cavity[tile]).isNaN();
            assertThat(protrusion[tile]).isNaN();
        }
    }

    @Test
    void a_dot_is_as_wide_as_it_is_in_a_tile_of_any_side() {
        int corners = 64;
        double[] dot = Polygons.disc(117.3, 61.9, 2, corners);
        double flats = 2 * Math.hypot(dot[0] - 117.3, dot[1] - 61.9) * Math.cos(Math.PI / corners);
        for (double pitch : new double[] {25, 50, 200, 400}) {
            TileMap map = map(List.of(micrometres(Polygons.of(dot))), Drawn.CAVITIES, 400, pitch, 1);
            double[] widths = widths(map, TileFields.CAVITY_WIDTH_MIN);
            int row = (int) (61.9 / pitch);
            int column = (int) (117.3 / pitch);
            int tile = row * (int) Math.round(400 / pitch) + column;
            assertThat(widths[tile]).isCloseTo(flats, within(1e-9));
        }
    }

    /** Oracle: JTS, the narrowest strip that holds the triangle. */
    @ParameterizedTest
    @MethodSource("seeds")
    void a_triangle_is_as_wide_as_the_narrowest_strip_that_holds_it(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        PackedPolygon triangle = Polygons.of(new double[] {
            random.nextDouble(10, 20), random.nextDouble(10, 20),
            random.nextDouble(60, 70), random.nextDouble(10, 30),
            random.nextDouble(30, 50), random.nextDouble(50, 60)
        });
        double width = new MinimumDiameter(Polygons.jts(triangle)).getLength();
        assertThat(widths(
                        map(List.of(micrometres(triangle)), Drawn.CAVITIES, 100, 100, 1), TileFields.CAVITY_WIDTH_MIN)[
                        0])
                .isCloseTo(width, within(1e-9));
    }

    /** Source of truth: JTS buffers, whose sides are as far apart as they were told to be. */
    @ParameterizedTest
    @MethodSource("seeds")
    void a_bent_channel_is_as_wide_as_it_was_drawn_in_every_tile_its_walls_run_through(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double width = random.nextDouble(0.5, 6);
        Coordinate[] line = new Coordinate[7];
        for (int i = 0; i < line.length; i++) {
            // Up and down: JTS is not exact where a line hardly bends.
            line[i] = new Coordinate(
                    30 + 120 * i, i % 2 == 0 ? random.nextDouble(330, 390) : random.nextDouble(410, 470));
        }
        LineString middle = FACTORY.createLineString(line);
        BufferParameters sharp = new BufferParameters(8, BufferParameters.CAP_FLAT, BufferParameters.JOIN_MITRE, 5);
        sharp.setSimplifyFactor(0);
        Geometry channel = BufferOp.bufferOp(middle, width / 2, sharp);
        double[] widths = widths(
                map(List.of(micrometres(packed(channel))), Drawn.CAVITIES, 800, 40, 1), TileFields.CAVITY_WIDTH_MIN);
        int tiles = 0;
        for (int tile = 0; tile < widths.length; tile++) {
            Geometry inside = FACTORY.toGeometry(
                    new Envelope(tile % 20 * 40, tile % 20 * 40 + 40, tile / 20 * 40, tile / 20 * 40 + 40));
            // Both walls in the tile for a stretch: elsewhere only a bend or an end may be in it.
            if (middle.intersection(inside).getLength() > 20
                    && middle.intersection(inside).getNumPoints() == 2) {
                assertThat(widths[tile]).as("tile " + tile).isCloseTo(width, within(1e-6));
                tiles++;
            } else if (!inside.intersects(channel)) {
                assertThat(widths[tile]).isNaN();
            }
        }
        assertThat(tiles).isGreaterThan(5);
    }

    /** Oracle: JTS distances of every pair of features. */
    @ParameterizedTest
    @MethodSource("seeds")
    void the_gaps_between_features_are_their_distances(long seed) {
        List<PackedPolygon> polygons = new ArrayList<>();
        List<Geometry> shapes = new ArrayList<>();
        for (PackedPolygon star : Polygons.stars(seed, 9, 360)) {
            Geometry hull = Polygons.jts(star).convexHull();
            shapes.add(hull);
            polygons.add(micrometres(packed(hull)));
        }
        double pitch = seed % 2 == 0 ? 60 : 24;
        int across = (int) Math.round(360 / pitch);
        double[] widths = widths(map(polygons, Drawn.CAVITIES, 360, pitch, 2), TileFields.PROTRUSION_WIDTH_MIN);
        int checked = 0;
        for (int tile = 0; tile < widths.length; tile++) {
            int column = tile % across;
            int row = tile / across;
            double x = column * pitch;
            double y = row * pitch;
            Geometry inside = FACTORY.toGeometry(new Envelope(x, x + pitch, y, y + pitch));
            double least = Double.POSITIVE_INFINITY;
            boolean within = false;
            for (Geometry one : shapes) {
                Geometry wall = one.getBoundary().intersection(inside);
                for (Geometry other : shapes) {
                    if (!one.equals(other) && !wall.isEmpty()) {
                        DistanceOp op = new DistanceOp(wall, other);
                        if (op.distance() < least) {
                            least = op.distance();
                            Coordinate at = op.nearestPoints()[0];
                            within =
                                    Math.min(Math.min(at.x - x, x + pitch - at.x), Math.min(at.y - y, y + pitch - at.y))
                                            > 1e-4 * pitch;
                            // A way through the feature itself is none; which one would be is left open.
                            within &= FACTORY.createLineString(op.nearestPoints())
                                            .intersection(one)
                                            .getLength()
                                    < 1e-9;
                        }
                    }
                }
            }
            if (within && least < pitch) {
                assertThat(widths[tile]).as("tile " + tile).isCloseTo(least, within(1e-9));
                checked++;
            } else if (!Double.isNaN(widths[tile])) {
                // Towards a wall that is nearer outside the tile, the way square to a wall is longer.
                assertThat(widths[tile]).as("tile " + tile).isGreaterThan(least - 1e-9);
            }
        }
        assertThat(checked).isGreaterThan(across);
    }

    /** Oracle: every way square to a wall, and from every corner, found by JTS and taken if it stays inside. */
    @ParameterizedTest
    @MethodSource("seeds")
    void the_narrowest_place_inside_a_feature_is_the_shortest_way_across_it(long seed) {
        int checked = 0;
        for (PackedPolygon star : Polygons.stars(seed, 5, 200)) {
            double expected = narrowest(Polygons.jts(star));
            double found = widths(
                    map(List.of(micrometres(star)), Drawn.PROTRUSIONS, 200, 200, 1), TileFields.PROTRUSION_WIDTH_MIN)[
                    0];
            if (Double.isInfinite(expected)) {
                continue;
            }
            assertThat(found).isCloseTo(expected, within(1e-6));
            checked++;
        }
        assertThat(checked).isGreaterThan(12);
    }

    private static double narrowest(Polygon polygon) {
        List<LineSegment> walls = new ArrayList<>();
        List<LineString> rings = new ArrayList<>(List.of(polygon.getExteriorRing()));
        for (int hole = 0; hole < polygon.getNumInteriorRing(); hole++) {
            rings.add(polygon.getInteriorRingN(hole));
        }
        for (LineString ring : rings) {
            Coordinate[] points = ring.getCoordinates();
            for (int i = 0; i + 1 < points.length; i++) {
                walls.add(new LineSegment(points[i], points[i + 1]));
            }
        }
        Geometry inside = polygon.buffer(1e-7);
        double least = Double.POSITIVE_INFINITY;
        for (LineSegment one : walls) {
            for (LineSegment other : walls) {
                if (one.equals(other)) {
                    continue;
                }
                boolean joined = one.p0.equals2D(other.p0)
                        || one.p0.equals2D(other.p1)
                        || one.p1.equals2D(other.p0)
                        || one.p1.equals2D(other.p1);
                // The angle between both, as lines without a direction.
                double angle = Math.abs(Math.sin(one.angle() - other.angle()));
                if (joined && angle <= Math.sqrt(0.5)) {
                    least = Math.min(least, wideEnd(one, other, inside));
                } else if (angle <= Math.sqrt(0.5)) {
                    double shortest = 1e9;
                    // From every place of the first wall where what is seen from it may change.
                    for (LineSegment wall : walls) {
                        double place = Math.max(0, Math.min(1, one.projectionFactor(wall.p0)));
                        double length = way(one.pointAlong(place), one, other, inside);
                        shortest = Math.min(shortest, length);
                    }
                    least = Math.min(least, shortest);
                }
                if (joined) {
                    continue;
                }
                for (Coordinate corner : List.of(other.p0, other.p1)) {
                    // From an inner corner straight to a wall, if the corner is the nearest point around.
                    double factor = one.projectionFactor(corner);
                    if (factor >= 0 && factor <= 1) {
                        least = Math.min(least, ifNarrow(corner, one.pointAlong(factor), walls, inside, corner));
                    }
                    for (Coordinate second : List.of(one.p0, one.p1)) {
                        least = Math.min(least, ifNarrow(corner, second, walls, inside, corner, second));
                    }
                }
            }
        }
        return least > 1e8 ? Double.POSITIVE_INFINITY : least;
    }

    /** Of two walls that meet in a sharp corner, the way square to the first at the far end of their common stretch. */
    private static double wideEnd(LineSegment one, LineSegment other, Geometry inside) {
        Coordinate corner = one.p0.equals2D(other.p0) || one.p0.equals2D(other.p1) ? one.p0 : one.p1;
        Coordinate end = other.p0.equals2D(corner) ? other.p1 : other.p0;
        double turn = Angle.angleBetween(corner.equals2D(one.p0) ? one.p1 : one.p0, corner, end);
        double reach = Math.min(one.getLength(), other.getLength() * Math.cos(turn));
        Coordinate far = corner.equals2D(one.p0) ? one.p1 : one.p0;
        Coordinate between = new Coordinate(
                corner.x
                        + 1e-3
                                * ((end.x - corner.x) / corner.distance(end)
                                        + (far.x - corner.x) / corner.distance(far)),
                corner.y
                        + 1e-3
                                * ((end.y - corner.y) / corner.distance(end)
                                        + (far.y - corner.y) / corner.distance(far)));
        boolean sharp = turn <= Math.PI / 4 && inside.covers(FACTORY.createPoint(between));
        return sharp ? reach * Math.tan(turn) : 1e9;
    }

    /** Way square to the first wall from a point of it to the second. */
    private static double way(Coordinate from, LineSegment one, LineSegment other, Geometry inside) {
        double dx = one.p1.x - one.p0.x;
        double dy = one.p1.y - one.p0.y;
        LineSegment square = new LineSegment(from.x, from.y, from.x - dy, from.y + dx);
        Coordinate hit = square.lineIntersection(new LineSegment(other.p0, other.p1));
        if (hit != null && other.distance(hit) > 1e-9) {
            return 1e9;
        }
        // Both walls have to be left and met on their inner side, also at their ends.
        boolean sound = hit != null
                && hit.distance(from) > 1e-9
                && isInside(hit, one, inside)
                && isInside(from, other, inside)
                && inside.covers(FACTORY.createLineString(new Coordinate[] {from, hit}));
        return sound ? hit.distance(from) : 1e9;
    }

    private static boolean isInside(Coordinate point, LineSegment wall, Geometry inside) {
        boolean insideIsLeft = inside.covers(FACTORY.createPoint(wall.pointAlongOffset(0.5, 1e-6)));
        return (wall.orientationIndex(point) > 0) == insideIsLeft;
    }

    /** Their distance, if the way stays inside and every corner at its ends only has walls that lead away from it. */
    private static double ifNarrow(
            Coordinate a, Coordinate b, List<LineSegment> walls, Geometry inside, Coordinate... corners) {
        double distance = a.distance(b);
        if (distance < 1e-9 || !inside.covers(FACTORY.createLineString(new Coordinate[] {a, b}))) {
            return 1e9;
        }
        for (Coordinate corner : corners) {
            Coordinate far = corner.equals2D(a) ? b : a;
            for (LineSegment wall : walls) {
                boolean here = wall.p0.equals2D(corner) || wall.p1.equals2D(corner);
                Coordinate next = wall.p0.equals2D(corner) ? wall.p1 : wall.p0;
                double towards = (next.x - corner.x) * (far.x - corner.x) + (next.y - corner.y) * (far.y - corner.y);
                if (here && towards > 1e-9) {
                    return 1e9;
                }
            }
        }
        return distance;
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void an_array_measures_as_its_copies_drawn_out(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int columns = random.nextInt(1, 9);
        int rows = random.nextInt(1, 9);
        double dx = random.nextDouble(16, 30) * (seed % 2 == 0 ? 1 : -1);
        double dy = random.nextDouble(16, 30);
        double x = dx > 0 ? 20 : 260;
        PackedPolygon one = micrometres(Polygons.of(Polygons.star(random, x, 20, 8, random.nextInt(4, 20))));
        PackedPolygon line = micrometres(Polygons.of(Polygons.rectangle(5, 10 + dy / 2, 7, 290)));
        List<PackedPolygon> drawn = new ArrayList<>(List.of(line));
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                drawn.add(Polygons.mapped(one, 1, 0, column * dx * UM, 0, 1, row * dy * UM));
            }
        }
        PackedPolygon array = Polygons.with(
                Polygons.mapped(one, 1, 0, 0, 0, 1, 0),
                new Traits(null, null, new Repeat(columns, rows, dx * UM, dy * UM), null));
        // One tile: whole copies either way, so that nothing is cut.
        for (FieldName name : List.of(TileFields.CAVITY_WIDTH_MIN, TileFields.PROTRUSION_WIDTH_MIN)) {
            double[] expected = widths(map(drawn, Drawn.CAVITIES, 300, 300, 1), name);
            double[] found = widths(map(List.of(array, line), Drawn.CAVITIES, 300, 300, 1), name);
            assertThat(found[0]).as(name.id()).isCloseTo(expected[0], within(1e-9));
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void threads_memory_and_the_way_the_land_is_looked_at_change_nothing(long seed) {
        List<PackedPolygon> polygons = new ArrayList<>();
        Polygons.stars(seed, 7, 300).forEach(star -> polygons.add(micrometres(star)));
        polygons.set(3, Polygons.with(polygons.get(3), new Traits(3e-7, Role.CAVITY, null, null)));
        Drawn drawn = seed % 2 == 0 ? Drawn.CAVITIES : Drawn.PROTRUSIONS;
        TileMap one = map(polygons, drawn, 300, 30, 1);
        TileMap other = map(polygons, drawn, 300, 30, 3, Structure.SOLVED, 20_000);
        for (FieldName name : List.of(TileFields.CAVITY_WIDTH_MIN, TileFields.PROTRUSION_WIDTH_MIN)) {
            assertThat(widths(other, name)).containsExactly(widths(one, name));
        }
    }
}
