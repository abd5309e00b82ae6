package org.evenstamp.geometry.draw;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.util.GeometryFixer;
import org.locationtech.jts.operation.overlayng.CoverageUnion;

/**
 * Where a field lies between two levels, as polygons.
 *
 * <p>The value of a tile stands at its centre. Between four centres the field is linear on eight triangles about the corner of the
 * four tiles, whose value is the mean of theirs; from the outermost centres to the rim of the map it is constant. So the levels
 * run on from square to square without a gap, and a field that is linear has exact contours. Tiles without a value have no part in
 * any band; the sides of such a tile are taken to have the mean of what is known next to it.
 */
public final class Contours {
    private static final GeometryFactory FACTORY = new GeometryFactory();
    private static final double ROUNDING = 1e-9; // of the range of a field

    private final Field field;
    private final TileGrid grid;
    /** Values of the tiles and of one more tile on every side of the map. */
    private final double[] values;

    private final int across;
    private final int high;
    /** Values as near to a level as this are on it: a crossing that rounding makes would be no point of its own. */
    private final double rounding;

    /**
     * What lies between two levels.
     *
     * @param fromSi lower level; null for all that is lower than {@code toSi}
     * @param toSi upper level; null for all that is at least {@code fromSi}
     * @param polygons each with its rings, the outline first; x and y in turn, metres, the first point again at the end
     */
    public record Band(@Nullable Double fromSi, @Nullable Double toSi, List<List<double[]>> polygons) {
        /** Copies the list. */
        public Band {
            polygons = List.copyOf(polygons);
        }
    }

    private Contours(Field field) {
        this.field = field;
        this.grid = field.grid();
        this.across = grid.columns() + 2;
        this.high = grid.rows() + 2;
        this.values = new double[across * high];
        double[] sorted = field.sorted();
        this.rounding = sorted.length == 0 ? 0 : ROUNDING * (sorted[sorted.length - 1] - sorted[0]);
        for (int row = 0; row < high; row++) {
            for (int column = 0; column < across; column++) {
                values[row * across + column] = near(
                        Math.max(0, Math.min(grid.columns() - 1, column - 1)),
                        Math.max(0, Math.min(grid.rows() - 1, row - 1)));
            }
        }
    }

    /**
     * Draws the bands between levels, from the lowest to the highest; those without area are left out.
     *
     * @param levelsSi one at least, ascending
     */
    public static List<Band> bands(Field field, double[] levelsSi, Progress progress) {
        for (int i = 1; i < levelsSi.length; i++) {
            if (!(levelsSi[i] > levelsSi[i - 1])) {
                throw new IllegalArgumentException("levels must ascend: " + Arrays.toString(levelsSi));
            }
        }
        Contours contours = new Contours(field);
        List<Band> bands = new ArrayList<>();
        for (int i = 0; i <= levelsSi.length; i++) {
            double from = i == 0 ? Double.NEGATIVE_INFINITY : levelsSi[i - 1];
            double to = i == levelsSi.length ? Double.POSITIVE_INFINITY : levelsSi[i];
            List<List<double[]>> polygons = contours.between(from, to, progress);
            if (!polygons.isEmpty()) {
                bands.add(new Band(i == 0 ? null : from, i == levelsSi.length ? null : to, polygons));
            }
        }
        return bands;
    }

    /** The value of a tile, or the mean of its known neighbours; NaN where none is known. */
    private double near(int column, int row) {
        int tile = grid.index(column, row);
        if (field.known(tile)) {
            return field.at(tile);
        }
        double sum = 0;
        int count = 0;
        for (int r = Math.max(0, row - 1); r <= Math.min(grid.rows() - 1, row + 1); r++) {
            for (int c = Math.max(0, column - 1); c <= Math.min(grid.columns() - 1, column + 1); c++) {
                int other = grid.index(c, r);
                if (field.known(other)) {
                    sum += field.at(other);
                    count++;
                }
            }
        }
        return sum / count;
    }

    /** Place along an axis: the centre of a tile, or the rim of the map before the first and behind the last one. */
    private static double place(double origin, double pitch, int index, int count) {
        return index == 0 ? origin : index > count ? origin + count * pitch : origin + (index - 0.5) * pitch;
    }

    private double x(int column) {
        return place(grid.originXMetres(), grid.pitchMetres(), column, grid.columns());
    }

    private double y(int row) {
        return place(grid.originYMetres(), grid.pitchMetres(), row, grid.rows());
    }

    /** A point with the field's value there. */
    private record Node(double x, double y, double value) {
        /** Between two nodes; the same bits whichever comes first. */
        static Node between(Node one, Node other, double level) {
            boolean swap = one.x > other.x || (one.x == other.x && one.y > other.y);
            Node a = swap ? other : one;
            Node b = swap ? one : other;
            double t = (level - a.value) / (b.value - a.value);
            return new Node(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), level);
        }
    }

    private List<List<double[]>> between(double from, double to, Progress progress) {
        List<Polygon> pieces = new ArrayList<>();
        for (int row = 0; row + 1 < high; row++) {
            progress.checkCancelled();
            for (int column = 0; column + 1 < across; column++) {
                square(column, row, from, to, pieces);
            }
        }
        Geometry all = CoverageUnion.union(FACTORY.createGeometryCollection(pieces.toArray(new Geometry[0])));
        if (!all.isValid()) { // an outline that touches itself in a point
            all = GeometryFixer.fix(all);
        }
        List<List<double[]>> polygons = new ArrayList<>();
        for (int i = 0; i < all.getNumGeometries(); i++) {
            if (all.getGeometryN(i) instanceof Polygon polygon && !polygon.isEmpty()) {
                // RFC 7946: outlines turn counterclockwise, holes clockwise.
                List<double[]> rings = new ArrayList<>();
                rings.add(ring(polygon.getExteriorRing(), true));
                for (int hole = 0; hole < polygon.getNumInteriorRing(); hole++) {
                    rings.add(ring(polygon.getInteriorRingN(hole), false));
                }
                polygons.add(rings);
            }
        }
        return polygons;
    }

    private static double[] ring(LinearRing ring, boolean counterclockwise) {
        Coordinate[] points = ring.getCoordinates();
        boolean turn = org.locationtech.jts.algorithm.Orientation.isCCW(points) != counterclockwise;
        double[] xy = new double[2 * points.length];
        for (int i = 0; i < points.length; i++) {
            Coordinate point = points[turn ? points.length - 1 - i : i];
            xy[2 * i] = point.x;
            xy[2 * i + 1] = point.y;
        }
        return xy;
    }

    /** Adds what lies between the levels in the square between four centres. */
    private void square(int column, int row, double from, double to, List<Polygon> pieces) {
        Node[] corners = new Node[4];
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        boolean[] known = new boolean[4];
        boolean all = true;
        double sum = 0;
        for (int i = 0; i < 4; i++) {
            int c = column + (i == 1 || i == 2 ? 1 : 0);
            int r = row + (i >= 2 ? 1 : 0);
            double value = onLevel(values[r * across + c], from, to);
            int tileColumn = Math.max(0, Math.min(grid.columns() - 1, c - 1));
            int tileRow = Math.max(0, Math.min(grid.rows() - 1, r - 1));
            known[i] = field.known(grid.index(tileColumn, tileRow));
            all &= known[i];
            least = Math.min(least, value);
            most = Math.max(most, value);
            sum += value;
            corners[i] = new Node(x(c), y(r), value);
        }
        if (!(known[0] || known[1] || known[2] || known[3]) || most < from || least >= to) {
            return;
        }
        Node middle = new Node(middle(column, true), middle(row, false), onLevel(sum / 4, from, to));
        Node[] sides = new Node[4];
        for (int i = 0; i < 4; i++) {
            Node a = corners[i];
            Node b = corners[(i + 1) % 4];
            boolean level = a.y == b.y;
            sides[i] = new Node(
                    level ? middle.x : a.x, level ? a.y : middle.y, onLevel((a.value + b.value) / 2, from, to));
        }
        if (all && least >= from && most < to) {
            pieces.add(polygon(
                    List.of(corners[0], sides[0], corners[1], sides[1], corners[2], sides[2], corners[3], sides[3])));
            return;
        }
        for (int i = 0; i < 4; i++) {
            if (known[i]) {
                triangle(new Node[] {corners[i], sides[i], middle}, from, to, pieces);
                triangle(new Node[] {middle, sides[(i + 3) % 4], corners[i]}, from, to, pieces);
            }
        }
    }

    private double onLevel(double value, double from, double to) {
        return Math.abs(value - from) <= rounding ? from : Math.abs(value - to) <= rounding ? to : value;
    }

    /** The line between two tiles; at the rim of the map the middle of the half tile. */
    private double middle(int index, boolean alongX) {
        int count = alongX ? grid.columns() : grid.rows();
        double origin = alongX ? grid.originXMetres() : grid.originYMetres();
        double pitch = grid.pitchMetres();
        return index == 0
                ? origin + 0.25 * pitch
                : index == count ? origin + (count - 0.25) * pitch : origin + index * pitch;
    }

    /** Adds the part of a triangle between the levels. */
    private static void triangle(Node[] ends, double from, double to, List<Polygon> pieces) {
        List<Node> part = new ArrayList<>();
        double least = Math.min(ends[0].value, Math.min(ends[1].value, ends[2].value));
        if (least >= to) {
            return;
        }
        for (int i = 0; i < 3; i++) {
            Node a = ends[i];
            Node b = ends[(i + 1) % 3];
            if (a.value >= from && a.value <= to) {
                part.add(a);
            }
            boolean rises = a.value < b.value;
            crossing(a, b, rises ? from : to, part);
            crossing(a, b, rises ? to : from, part);
        }
        if (part.size() >= 3 && area(part) != 0) {
            pieces.add(polygon(part));
        }
    }

    private static void crossing(Node a, Node b, double level, List<Node> part) {
        if (level > Math.min(a.value, b.value) && level < Math.max(a.value, b.value)) {
            Node node = Node.between(a, b, level);
            Node last = part.isEmpty() ? null : part.get(part.size() - 1);
            if (last == null || last.x != node.x || last.y != node.y) {
                part.add(node);
            }
        }
    }

    private static double area(List<Node> nodes) {
        double sum = 0;
        Node first = nodes.get(0);
        for (int i = 1; i + 1 < nodes.size(); i++) {
            Node a = nodes.get(i);
            Node b = nodes.get(i + 1);
            sum += (a.x - first.x) * (b.y - first.y) - (b.x - first.x) * (a.y - first.y);
        }
        return sum;
    }

    private static Polygon polygon(List<Node> nodes) {
        Coordinate[] ring = new Coordinate[nodes.size() + 1];
        for (int i = 0; i <= nodes.size(); i++) {
            Node node = nodes.get(i % nodes.size());
            ring[i] = new Coordinate(node.x, node.y);
        }
        return FACTORY.createPolygon(ring);
    }
}
