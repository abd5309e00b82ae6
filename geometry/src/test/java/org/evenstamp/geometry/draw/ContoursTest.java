package org.evenstamp.geometry.draw;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleBinaryOperator;
import java.util.stream.LongStream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.Triangle;
import org.locationtech.jts.operation.valid.IsValidOp;

/** Contours of a field against JTS: its interpolation on triangles, its areas, its rules of what a polygon is. */
class ContoursTest {
    private static final GeometryFactory FACTORY = new GeometryFactory();
    private static final FieldName NAME = FieldName.of("some.field", "nm", "some field");

    static LongStream seeds() {
        return LongStream.range(0, 40);
    }

    private static Field field(TileGrid grid, DoubleBinaryOperator of) {
        double[] values = new double[grid.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = of.applyAsDouble(grid.centreXMetres(grid.column(i)), grid.centreYMetres(grid.row(i)));
        }
        return Field.of(NAME, grid, values);
    }

    private static Geometry shape(Contours.Band band) {
        List<Polygon> polygons = new ArrayList<>();
        for (List<double[]> rings : band.polygons()) {
            LinearRing[] all = rings.stream().map(ContoursTest::ring).toArray(LinearRing[]::new);
            polygons.add(FACTORY.createPolygon(all[0], java.util.Arrays.copyOfRange(all, 1, all.length)));
        }
        return FACTORY.createMultiPolygon(polygons.toArray(new Polygon[0]));
    }

    private static LinearRing ring(double[] xy) {
        Coordinate[] points = new Coordinate[xy.length / 2];
        for (int i = 0; i < points.length; i++) {
            points[i] = new Coordinate(xy[2 * i], xy[2 * i + 1]);
        }
        return FACTORY.createLinearRing(points);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void every_place_lies_in_the_band_of_its_interpolated_value(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = new TileGrid(-3e-6, 7e-6, 2e-6, random.nextInt(1, 9), random.nextInt(1, 9));
        double[] values = new double[grid.size()];
        for (int i = 0; i < values.length; i++) {
            // Whole numbers make ties with levels and flats; some tiles have no value.
            values[i] = random.nextInt(8) == 0
                    ? Double.NaN
                    : (seed % 2 == 0 ? random.nextInt(6) : random.nextDouble(6)) * 1e-9;
        }
        values[0] = 2.5e-9;
        Field field = Field.of(NAME, grid, values);
        double[] levels = {1e-9, 2.25e-9, 4e-9};
        List<Contours.Band> bands = Contours.bands(field, levels, new Progress());
        List<Geometry> shapes = bands.stream().map(ContoursTest::shape).toList();
        double area = 0;
        for (Geometry shape : shapes) {
            assertThat(new IsValidOp(shape).getValidationError())
                    .as(shape::toText)
                    .isNull();
            area += shape.getArea();
        }
        long known = java.util.stream.IntStream.range(0, values.length)
                .filter(field::known)
                .count();
        assertThat(area).isCloseTo(known * 4e-12, within(1e-20));
        for (int n = 0; n < 300; n++) {
            double x = grid.originXMetres() + random.nextDouble() * grid.columns() * 2e-6;
            double y = grid.originYMetres() + random.nextDouble() * grid.rows() * 2e-6;
            int tile = grid.index((int) ((x - grid.originXMetres()) / 2e-6), (int) ((y - grid.originYMetres()) / 2e-6));
            double value = field.known(tile) ? interpolated(field, x, y) : Double.NaN;
            for (int i = 0; i < bands.size(); i++) {
                Double from = bands.get(i).fromSi();
                Double to = bands.get(i).toSi();
                boolean near = Math.abs(value - or(from, 1)) < 1e-14 || Math.abs(value - or(to, 1)) < 1e-14;
                if (!near) {
                    boolean inside =
                            value >= or(from, Double.NEGATIVE_INFINITY) && value < or(to, Double.POSITIVE_INFINITY);
                    assertThat(shapes.get(i).contains(FACTORY.createPoint(new Coordinate(x, y))))
                            .as("%s at %s, %s in %s to %s", value, x, y, from, to)
                            .isEqualTo(inside);
                }
            }
        }
    }

    private static double or(@Nullable Double level, double other) {
        return level == null ? other : level;
    }

    /** The value at a place, from the triangle of a tile's centre, the middle of one of its sides and one of its corners. */
    private static double interpolated(Field field, double x, double y) {
        TileGrid grid = field.grid();
        int column = (int) ((x - grid.originXMetres()) / 2e-6);
        int row = (int) ((y - grid.originYMetres()) / 2e-6);
        double centreX = grid.centreXMetres(column);
        double centreY = grid.centreYMetres(row);
        int right = x > centreX ? 1 : -1;
        int up = y > centreY ? 1 : -1;
        boolean atSide = column + right < 0 || column + right >= grid.columns();
        boolean atEnd = row + up < 0 || row + up >= grid.rows();
        double here = value(field, column, row);
        double beside = value(field, column + right, row);
        double above = value(field, column, row + up);
        double across = value(field, column + right, row + up);
        if (Double.isNaN(across)) { // nothing is known about that tile
            across = (here + beside + above) / 3;
        }
        // Beyond the outermost centres the field stays what it is, which is linear on the same triangles.
        double cornerX = centreX + right * (atSide ? 0.5 : 1) * 1e-6;
        double cornerY = centreY + up * (atEnd ? 0.5 : 1) * 1e-6;
        if (atSide && Math.abs(x - centreX) > 0.5e-6) {
            return interpolatedAt(field, centreX + right * (1e-6 - Math.abs(x - centreX)), y);
        }
        if (atEnd && Math.abs(y - centreY) > 0.5e-6) {
            return interpolatedAt(field, x, centreY + up * (1e-6 - Math.abs(y - centreY)));
        }
        Coordinate centre = new Coordinate(centreX, centreY, here);
        Coordinate corner = new Coordinate(cornerX, cornerY, (here + beside + above + across) / 4);
        Coordinate side = new Coordinate(cornerX, centreY, (here + beside) / 2);
        Coordinate end = new Coordinate(centreX, cornerY, (here + above) / 2);
        boolean below = Math.abs(y - centreY) * Math.abs(cornerX - centreX)
                < Math.abs(x - centreX) * Math.abs(cornerY - centreY);
        return Triangle.interpolateZ(new Coordinate(x, y), centre, below ? side : end, corner);
    }

    /** By symmetry: between an outermost centre and the rim both ends of a line to the rim have the same value. */
    private static double interpolatedAt(Field field, double x, double y) {
        return interpolated(field, x, y);
    }

    private static double value(Field field, int column, int row) {
        TileGrid grid = field.grid();
        int c = Math.max(0, Math.min(grid.columns() - 1, column));
        int r = Math.max(0, Math.min(grid.rows() - 1, row));
        if (field.known(grid.index(c, r))) {
            return field.at(grid.index(c, r));
        }
        double sum = 0;
        int count = 0;
        for (int dr = -1; dr <= 1; dr++) {
            for (int dc = -1; dc <= 1; dc++) {
                if (c + dc >= 0
                        && c + dc < grid.columns()
                        && r + dr >= 0
                        && r + dr < grid.rows()
                        && field.known(grid.index(c + dc, r + dr))) {
                    sum += field.at(grid.index(c + dc, r + dr));
                    count++;
                }
            }
        }
        return sum / count;
    }

    @Test
    void a_slope_has_straight_contours_where_it_reaches_their_levels() {
        TileGrid grid = new TileGrid(0, 0, 1e-6, 20, 7);
        List<Contours.Band> bands =
                Contours.bands(field(grid, (x, y) -> x * 1e-3), new double[] {4.2e-9, 13.7e-9}, new Progress());
        assertThat(bands).hasSize(3);
        assertThat(shape(bands.get(0)).getArea()).isCloseTo(4.2e-6 * 7e-6, within(1e-20));
        assertThat(shape(bands.get(1)).getArea()).isCloseTo((13.7 - 4.2) * 7e-12, within(1e-20));
        assertThat(shape(bands.get(1)).getEnvelopeInternal().getMinX()).isCloseTo(4.2e-6, within(1e-15));
    }

    @Test
    void a_cone_has_circles() {
        TileGrid grid = new TileGrid(-50e-6, -50e-6, 1e-6, 100, 100);
        List<Contours.Band> bands =
                Contours.bands(field(grid, (x, y) -> Math.hypot(x, y)), new double[] {20e-6, 40e-6}, new Progress());
        double ring = Math.PI * (40e-6 * 40e-6 - 20e-6 * 20e-6);
        assertThat(shape(bands.get(1)).getArea()).isCloseTo(ring, within(1e-3 * ring));
        assertThat(bands.get(1).polygons()).hasSize(1);
        assertThat(bands.get(1).polygons().get(0)).hasSize(2);
    }
}
