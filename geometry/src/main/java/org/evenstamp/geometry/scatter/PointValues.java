package org.evenstamp.geometry.scatter;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.triangulate.DelaunayTriangulationBuilder;
import org.locationtech.jts.triangulate.quadedge.LocateFailureException;

/**
 * Values at points of the plane, and linear interpolation between them.
 *
 * <p>Points that are the crossings of some columns and rows are interpolated bilinearly; others linearly in the triangles of
 * their Delaunay triangulation. Both reproduce a plane. A tile takes the value at its centre. Outside the area of the points it
 * takes the value at the nearest place of their rim, as far as {@link #spacingMetres} from it and no farther. No value lies
 * outside the range of the points' own. Immutable.
 */
public final class PointValues {
    /** Most points that can be triangulated. */
    public static final int MOST_SCATTERED = 200_000;

    private static final double ON_RIM = 1e-9; // of a triangle or of the spacing: rounding

    private final double[] x;
    private final double[] y;
    private final double[] value;
    private final @Nullable Crossings crossings;
    private final List<int[]> triangles;
    private final List<int[]> rim;
    private final double spacing;

    /** Columns and rows, ascending, and the point at each crossing, row by row. */
    @SuppressWarnings("ArrayRecordComponent") // private, never changed
    private record Crossings(double[] x, double[] y, int[] point) {}

    private PointValues(
            double[] x,
            double[] y,
            double[] value,
            @Nullable Crossings crossings,
            List<int[]> triangles,
            List<int[]> rim,
            double area) {
        this.x = x;
        this.y = y;
        this.value = value;
        this.crossings = crossings;
        this.triangles = triangles;
        this.rim = rim;
        this.spacing = Math.sqrt(area / x.length);
    }

    /**
     * Takes points.
     *
     * @param x places in m, no two points at the same
     * @param y places in m
     * @param value what was measured, finite
     * @return nothing when the points span no area: fewer than three, or all on a line, or some too close to be told apart
     * @throws IllegalArgumentException when more than {@value #MOST_SCATTERED} points are no crossings of columns and rows
     */
    public static Optional<PointValues> of(double[] x, double[] y, double[] value) {
        Crossings crossings = crossings(x, y);
        if (crossings != null) {
            double[] columns = crossings.x;
            double[] rows = crossings.y;
            double area = (columns[columns.length - 1] - columns[0]) * (rows[rows.length - 1] - rows[0]);
            return Optional.of(
                    new PointValues(x.clone(), y.clone(), value.clone(), crossings, List.of(), rim(crossings), area));
        }
        if (x.length > MOST_SCATTERED) {
            throw new IllegalArgumentException(x.length + " scattered points are too many");
        }
        List<int[]> triangles = triangles(x, y);
        double area = 0;
        for (int[] t : triangles) {
            area += Math.abs(twiceArea(x, y, t)) / 2;
        }
        return area > 0
                ? Optional.of(
                        new PointValues(x.clone(), y.clone(), value.clone(), null, triangles, rim(triangles), area))
                : Optional.empty();
    }

    /** Whether the other has the same values at the same points in the same order: then it interpolates alike. */
    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof PointValues that
                && Arrays.equals(x, that.x)
                && Arrays.equals(y, that.y)
                && Arrays.equals(value, that.value);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(value);
    }

    /** Returns whether the points are the crossings of columns and rows. */
    public static boolean onCrossings(double[] x, double[] y) {
        return crossings(x, y) != null;
    }

    private static @Nullable Crossings crossings(double[] x, double[] y) {
        double[] columns = Arrays.stream(x).sorted().distinct().toArray();
        double[] rows = Arrays.stream(y).sorted().distinct().toArray();
        if (columns.length < 2 || rows.length < 2 || (long) columns.length * rows.length != x.length) {
            return null;
        }
        int[] point = new int[x.length];
        Arrays.fill(point, -1);
        for (int i = 0; i < x.length; i++) {
            int at = Arrays.binarySearch(rows, y[i]) * columns.length + Arrays.binarySearch(columns, x[i]);
            if (point[at] >= 0) {
                return null;
            }
            point[at] = i;
        }
        return new Crossings(columns, rows, point);
    }

    private static List<int[]> rim(Crossings c) {
        List<int[]> edges = new ArrayList<>();
        int columns = c.x.length;
        int rows = c.y.length;
        for (int i = 0; i + 1 < columns; i++) {
            edges.add(new int[] {c.point[i], c.point[i + 1]});
            edges.add(new int[] {c.point[(rows - 1) * columns + i], c.point[(rows - 1) * columns + i + 1]});
        }
        for (int j = 0; j + 1 < rows; j++) {
            edges.add(new int[] {c.point[j * columns], c.point[(j + 1) * columns]});
            edges.add(new int[] {c.point[(j + 1) * columns - 1], c.point[(j + 2) * columns - 1]});
        }
        return edges;
    }

    private static List<int[]> triangles(double[] x, double[] y) {
        Map<Coordinate, Integer> points = new HashMap<>();
        List<Coordinate> sites = new ArrayList<>();
        for (int i = 0; i < x.length; i++) {
            Coordinate site = new Coordinate(x[i], y[i]);
            points.put(site, i);
            sites.add(site);
        }
        DelaunayTriangulationBuilder builder = new DelaunayTriangulationBuilder();
        builder.setSites(sites);
        Geometry found;
        try {
            found = builder.getTriangles(new GeometryFactory());
        } catch (LocateFailureException e) { // so close to each other that rounding takes one for another
            return List.of();
        }
        List<int[]> triangles = new ArrayList<>();
        for (int n = 0; n < found.getNumGeometries(); n++) {
            Coordinate[] corners = found.getGeometryN(n).getCoordinates();
            int[] triangle = {points.get(corners[0]), points.get(corners[1]), points.get(corners[2])};
            if (twiceArea(x, y, triangle) != 0) {
                triangles.add(triangle);
            }
        }
        return triangles;
    }

    private static double twiceArea(double[] x, double[] y, int[] t) {
        return (x[t[1]] - x[t[0]]) * (y[t[2]] - y[t[0]]) - (x[t[2]] - x[t[0]]) * (y[t[1]] - y[t[0]]);
    }

    /** Edges of one triangle only. */
    private static List<int[]> rim(List<int[]> triangles) {
        Map<Long, int[]> once = new LinkedHashMap<>();
        for (int[] t : triangles) {
            for (int k = 0; k < 3; k++) {
                int a = Math.min(t[k], t[(k + 1) % 3]);
                int b = Math.max(t[k], t[(k + 1) % 3]);
                long key = ((long) a << 32) | b;
                if (once.remove(key) == null) {
                    once.put(key, new int[] {a, b});
                }
            }
        }
        return List.copyOf(once.values());
    }

    /** Returns the mean spacing of the points: the root of the area they span over their number. */
    public double spacingMetres() {
        return spacing;
    }

    /**
     * The values on tiles.
     *
     * @param values by tile
     * @param beyond number of tiles whose centre lies outside the area of the points
     * @param uncovered number of those that are farther than the mean spacing from it
     * @param farthestTile the tile farthest from it, -1 when none lies outside
     * @param farthestMetres its distance
     */
    public record OnTiles(
            @SuppressWarnings("ArrayRecordComponent") double[] values,
            int beyond,
            int uncovered,
            int farthestTile,
            double farthestMetres) {}

    /** Interpolates at the centres of tiles. */
    public OnTiles on(TileGrid grid) {
        double[] values = new double[grid.size()];
        Arrays.fill(values, Double.NaN);
        if (crossings != null) {
            bilinear(crossings, grid, values);
        } else {
            triangles.forEach(t -> linear(t, grid, values));
        }
        int beyond = 0;
        int uncovered = 0;
        int farthestTile = -1;
        double farthest = 0;
        for (int i = 0; i < values.length; i++) {
            if (Double.isNaN(values[i])) {
                double px = grid.centreXMetres(grid.column(i));
                double py = grid.centreYMetres(grid.row(i));
                double distance = Math.sqrt(nearest(px, py, i, values));
                beyond += distance > ON_RIM * spacing ? 1 : 0;
                uncovered += distance > spacing ? 1 : 0;
                if (distance > Math.max(farthest, ON_RIM * spacing)) {
                    farthestTile = i;
                    farthest = distance;
                }
            }
        }
        return new OnTiles(values, beyond, uncovered, farthestTile, farthest);
    }

    private void bilinear(Crossings c, TileGrid grid, double[] values) {
        for (int row = 0; row < grid.rows(); row++) {
            double py = grid.centreYMetres(row);
            int j = interval(c.y, py);
            for (int column = 0; column < grid.columns() && j >= 0; column++) {
                double px = grid.centreXMetres(column);
                int i = interval(c.x, px);
                if (i >= 0) {
                    double s = (px - c.x[i]) / (c.x[i + 1] - c.x[i]);
                    double t = (py - c.y[j]) / (c.y[j + 1] - c.y[j]);
                    int at = j * c.x.length + i;
                    double below = between(value[c.point[at]], value[c.point[at + 1]], s);
                    double above = between(value[c.point[at + c.x.length]], value[c.point[at + c.x.length + 1]], s);
                    values[grid.index(column, row)] = between(below, above, t);
                }
            }
        }
    }

    /** Returns the interval that holds a coordinate, -1 when none does. */
    private static int interval(double[] ascending, double at) {
        if (!(at >= ascending[0] && at <= ascending[ascending.length - 1])) {
            return -1;
        }
        int found = Arrays.binarySearch(ascending, at);
        return Math.min(ascending.length - 2, found >= 0 ? found : -found - 2);
    }

    private static double between(double a, double b, double share) {
        return a + share * (b - a);
    }

    private void linear(int[] t, TileGrid grid, double[] values) {
        double ax = x[t[0]];
        double ay = y[t[0]];
        double bx = x[t[1]] - ax;
        double by = y[t[1]] - ay;
        double cx = x[t[2]] - ax;
        double cy = y[t[2]] - ay;
        double twice = bx * cy - cx * by;
        int left = centre(ax + Math.min(0, Math.min(bx, cx)), grid.originXMetres(), grid.pitchMetres(), true);
        int right = centre(ax + Math.max(0, Math.max(bx, cx)), grid.originXMetres(), grid.pitchMetres(), false);
        int bottom = centre(ay + Math.min(0, Math.min(by, cy)), grid.originYMetres(), grid.pitchMetres(), true);
        int top = centre(ay + Math.max(0, Math.max(by, cy)), grid.originYMetres(), grid.pitchMetres(), false);
        for (int row = Math.max(0, bottom); row <= Math.min(grid.rows() - 1, top); row++) {
            double py = grid.centreYMetres(row) - ay;
            for (int column = Math.max(0, left); column <= Math.min(grid.columns() - 1, right); column++) {
                int i = grid.index(column, row);
                double px = grid.centreXMetres(column) - ax;
                double atB = (px * cy - cx * py) / twice;
                double atC = (bx * py - px * by) / twice;
                boolean inside = atB >= -ON_RIM && atC >= -ON_RIM && atB + atC <= 1 + ON_RIM;
                if (inside && Double.isNaN(values[i])) {
                    atB = Math.min(1, Math.max(0, atB));
                    atC = Math.min(1 - atB, Math.max(0, atC));
                    values[i] = (1 - atB - atC) * value[t[0]] + atB * value[t[1]] + atC * value[t[2]];
                }
            }
        }
    }

    /** Returns the first, or last, tile whose centre may lie on the inner side of a coordinate; one more than needed at most. */
    private static int centre(double at, double origin, double pitch, boolean first) {
        double place = Math.max(-2, Math.min(1e9, (at - origin) / pitch - 0.5));
        return (int) (first ? Math.floor(place) : Math.ceil(place));
    }

    /** Sets the value at the nearest place of the rim and returns the squared distance to it. */
    private double nearest(double px, double py, int tile, double[] values) {
        double least = Double.POSITIVE_INFINITY;
        for (int[] edge : rim) {
            double ax = x[edge[0]];
            double ay = y[edge[0]];
            double dx = x[edge[1]] - ax;
            double dy = y[edge[1]] - ay;
            double t = ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy);
            t = Math.min(1, Math.max(0, t));
            double ex = ax + t * dx - px;
            double ey = ay + t * dy - py;
            double squared = ex * ex + ey * ey;
            if (squared < least) {
                least = squared;
                values[tile] = between(value[edge[0]], value[edge[1]], t);
            }
        }
        return least;
    }
}
