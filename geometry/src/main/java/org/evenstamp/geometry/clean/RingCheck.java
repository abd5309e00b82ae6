package org.evenstamp.geometry.clean;

import org.evenstamp.geometry.layout.PackedPolygon;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.algorithm.CGAlgorithmsDD;
import org.locationtech.jts.operation.valid.IsValidOp;
import org.locationtech.jts.operation.valid.TopologyValidationError;

/**
 * Decides whether a polygon is sound by the OGC simple feature rules. In any length unit. Keeps work space; not for use by
 * several threads.
 *
 * <p>The common case costs one pass: a ring seen from the mean of its vertices in strictly rising angle, once around, cannot
 * cross itself. Otherwise edges are compared in pairs, all of them when there are few, those that share a cell of a grid when
 * there are many. Which side of a line a point lies on is decided in doubles where rounding cannot matter and in double-double
 * arithmetic where it can. Polygons with rings that touch each other, and only those, go to JTS.
 */
public final class RingCheck {
    /** The largest coordinate a layout may have, metres. */
    public static final double FARTHEST_METRES = 1e6;

    /** Up to this many edges all pairs are compared. */
    private static final int FEW_EDGES = 64;
    /** Up to this many holes are compared with each other one by one. */
    private static final int FEW_HOLES = 64;
    /** Relative rounding error of a determinant of differences (Shewchuk 1997, the first filter of orient2d). */
    private static final double FILTER = 3.3306690738754716e-16;

    private static final int APART = 0;
    private static final int TOUCHING = 1;
    private static final int CROSSING = 2;

    private PackedPolygon polygon = new PackedPolygon();
    private double[] xy = polygon.xy;
    /** For every edge min x, max x, min y, max y. */
    private double[] box = new double[0];
    /** For every edge its ring and the vertex it ends at. */
    private int[] ringOf = new int[0];

    private int[] to = new int[0];
    private boolean ringsTouch;

    /**
     * Returns what is wrong with a polygon, the first thing found, or null when nothing is.
     *
     * @param candidate consecutive vertices differ; the last of a ring differs from its first
     * @param farthest the largest coordinate allowed, in the polygon's unit
     */
    public @Nullable Defect check(PackedPolygon candidate, double farthest) {
        polygon = candidate;
        xy = candidate.xy;
        if (polygon.rings == 0) {
            return Defect.EMPTY;
        }
        int vertices = polygon.vertices();
        Defect far = range(2 * vertices, farthest);
        if (far != null) {
            return far;
        }
        for (int ring = 0; ring < polygon.rings; ring++) {
            if (polygon.ringEnd[ring] - polygon.ringStart(ring) < 3) {
                return polygon.ringEnd[ring] == polygon.ringStart(ring) && polygon.rings == 1
                        ? Defect.EMPTY
                        : Defect.FEW_VERTICES;
            }
        }
        if (polygon.rings == 1 && seenOnceAround(vertices)) {
            return null;
        }
        boolean noArea = false;
        for (int ring = 0; ring < polygon.rings; ring++) {
            if (areaDrownsInRounding(ring)) {
                noArea = true;
                if (onOneLine(ring)) {
                    return Defect.ZERO_AREA;
                }
            }
        }
        layOutEdges(vertices);
        if (retraces()) {
            return Defect.SELF_CROSSING;
        }
        ringsTouch = false;
        Defect crossing = vertices <= FEW_EDGES ? comparePairs(vertices) : compareInCells(vertices);
        if (crossing != null) {
            return crossing;
        }
        if (noArea) {
            return Defect.ZERO_AREA;
        }
        return polygon.rings == 1 ? null : holes();
    }

    private @Nullable Defect range(int numbers, double farthest) {
        double largest = 0;
        double sum = 0;
        for (int i = 0; i < numbers; i++) {
            double size = Math.abs(xy[i]);
            largest = Math.max(largest, size);
            sum += size;
        }
        if (largest <= farthest) { // a NaN makes the maximum NaN
            return null;
        }
        return sum < Double.POSITIVE_INFINITY || allFinite(numbers) ? Defect.OUT_OF_RANGE : Defect.NOT_FINITE;
    }

    private boolean allFinite(int numbers) {
        for (int i = 0; i < numbers; i++) {
            if (!Double.isFinite(xy[i])) {
                return false;
            }
        }
        return true;
    }

    /** Whether every edge, seen from the mean of the vertices, turns the same way, and all together turn once. */
    private boolean seenOnceAround(int n) {
        double cx = 0;
        double cy = 0;
        for (int i = 0; i < n; i++) {
            cx += xy[2 * i];
            cy += xy[2 * i + 1];
        }
        cx /= n;
        cy /= n;
        double ax = xy[2 * n - 2] - cx;
        double ay = xy[2 * n - 1] - cy;
        int left = 0;
        int right = 0;
        int upward = 0;
        for (int i = 0; i < n; i++) {
            double bx = xy[2 * i] - cx;
            double by = xy[2 * i + 1] - cy;
            double first = ax * by;
            double second = ay * bx;
            double turn = first - second;
            double doubt = FILTER * (Math.abs(first) + Math.abs(second));
            left += turn > doubt ? 1 : 0;
            right += -turn > doubt ? 1 : 0;
            // A turn to one side all the way passes from below to above as often as it goes around.
            upward += ay < 0 && by >= 0 ? 1 : 0;
            ax = bx;
            ay = by;
        }
        return (left == n || right == n) && upward == 1;
    }

    private boolean areaDrownsInRounding(int ring) {
        int start = polygon.ringStart(ring);
        int end = polygon.ringEnd[ring];
        double x0 = xy[2 * start];
        double y0 = xy[2 * start + 1];
        double sum = 0;
        double size = 0;
        for (int i = start + 1; i + 1 < end; i++) {
            double first = (xy[2 * i] - x0) * (xy[2 * i + 3] - y0);
            double second = (xy[2 * i + 2] - x0) * (xy[2 * i + 1] - y0);
            sum += first - second;
            size += Math.abs(first) + Math.abs(second);
        }
        return Math.abs(sum) <= FILTER * (end - start) * size;
    }

    private boolean onOneLine(int ring) {
        int start = polygon.ringStart(ring);
        for (int i = start + 2; i < polygon.ringEnd[ring]; i++) {
            if (side(start, start + 1, i) != 0) {
                return false;
            }
        }
        return true;
    }

    private void layOutEdges(int n) {
        if (to.length < n) {
            to = new int[Math.max(n, 2 * to.length)];
            ringOf = new int[to.length];
            box = new double[4 * to.length];
        }
        for (int ring = 0; ring < polygon.rings; ring++) {
            int start = polygon.ringStart(ring);
            int end = polygon.ringEnd[ring];
            for (int i = start; i < end; i++) {
                int next = i + 1 == end ? start : i + 1;
                to[i] = next;
                ringOf[i] = ring;
                box[4 * i] = Math.min(xy[2 * i], xy[2 * next]);
                box[4 * i + 1] = Math.max(xy[2 * i], xy[2 * next]);
                box[4 * i + 2] = Math.min(xy[2 * i + 1], xy[2 * next + 1]);
                box[4 * i + 3] = Math.max(xy[2 * i + 1], xy[2 * next + 1]);
            }
        }
    }

    /** Whether an edge turns straight back over the one before it. */
    private boolean retraces() {
        for (int ring = 0; ring < polygon.rings; ring++) {
            for (int a = polygon.ringStart(ring); a < polygon.ringEnd[ring]; a++) {
                int b = to[a];
                int c = to[b];
                double forward = (xy[2 * b] - xy[2 * a]) * (xy[2 * c] - xy[2 * b])
                        + (xy[2 * b + 1] - xy[2 * a + 1]) * (xy[2 * c + 1] - xy[2 * b + 1]);
                if (forward < 0 && side(a, b, c) == 0) {
                    return true;
                }
            }
        }
        return false;
    }

    private @Nullable Defect comparePairs(int n) {
        for (int i = 0; i < n; i++) {
            double minX = box[4 * i];
            double maxX = box[4 * i + 1];
            double minY = box[4 * i + 2];
            double maxY = box[4 * i + 3];
            for (int j = i + 1; j < n; j++) {
                if (box[4 * j] <= maxX && box[4 * j + 1] >= minX && box[4 * j + 2] <= maxY && box[4 * j + 3] >= minY) {
                    Defect defect = compare(i, j);
                    if (defect != null) {
                        return defect;
                    }
                }
            }
        }
        return null;
    }

    /**
     * Compares the edges that share a cell. Columns and rows are as many as let an edge cross about three of each on average, so
     * that a comb of long thin teeth gets thin cells along it.
     */
    private @Nullable Defect compareInCells(int n) {
        double minX = Double.POSITIVE_INFINITY;
        double maxX = Double.NEGATIVE_INFINITY;
        double minY = Double.POSITIVE_INFINITY;
        double maxY = Double.NEGATIVE_INFINITY;
        double acrossX = 0;
        double acrossY = 0;
        for (int i = 0; i < n; i++) {
            minX = Math.min(minX, box[4 * i]);
            maxX = Math.max(maxX, box[4 * i + 1]);
            minY = Math.min(minY, box[4 * i + 2]);
            maxY = Math.max(maxY, box[4 * i + 3]);
            acrossX += box[4 * i + 1] - box[4 * i];
            acrossY += box[4 * i + 3] - box[4 * i + 2];
        }
        double columnsWanted = 2.0 * n * (maxX - minX) / acrossX;
        double rowsWanted = 2.0 * n * (maxY - minY) / acrossY;
        double tooMany = Math.sqrt(Math.max(1, columnsWanted * rowsWanted / (2.0 * n)));
        int columns = (int) Math.max(1, Math.min(2.0 * n, columnsWanted / tooMany));
        int rows = (int) Math.max(1, Math.min(2.0 * n, rowsWanted / tooMany));
        while ((long) columns * rows > 4L * n) { // one of the two was held at 1
            columns = Math.max(1, columns / 2);
            rows = Math.max(1, rows / 2);
        }
        Cells cells = new Cells(minX, minY, columns / (maxX - minX), rows / (maxY - minY), columns, rows);
        int[] first = new int[columns * rows + 1];
        for (int i = 0; i < n; i++) {
            cells.count(i, first);
        }
        for (int cell = 0; cell < columns * rows; cell++) {
            first[cell + 1] += first[cell];
        }
        int[] members = new int[first[columns * rows]];
        // Filled from the back, so that the offsets end as the beginnings.
        for (int i = n - 1; i >= 0; i--) {
            cells.file(i, first, members);
        }
        for (int cell = 0; cell < columns * rows; cell++) {
            int end = cell + 1 < columns * rows ? first[cell + 1] : members.length;
            for (int k = first[cell]; k < end; k++) {
                int i = members[k];
                for (int m = k + 1; m < end; m++) {
                    int j = members[m];
                    if (box[4 * j] <= box[4 * i + 1]
                            && box[4 * j + 1] >= box[4 * i]
                            && box[4 * j + 2] <= box[4 * i + 3]
                            && box[4 * j + 3] >= box[4 * i + 2]) {
                        Defect defect = compare(i, j);
                        if (defect != null) {
                            return defect;
                        }
                    }
                }
            }
        }
        return null;
    }

    /** A grid over the polygon's bounding box. Rounding may put an edge into one cell more, never into one less. */
    private final class Cells {
        private final double x0;
        private final double y0;
        private final double perX;
        private final double perY;
        private final int columns;
        private final int rows;

        Cells(double x0, double y0, double perX, double perY, int columns, int rows) {
            this.x0 = x0;
            this.y0 = y0;
            this.perX = perX;
            this.perY = perY;
            this.columns = columns;
            this.rows = rows;
        }

        void count(int edge, int[] counts) {
            walk(edge, counts, null);
        }

        void file(int edge, int[] ends, int[] members) {
            walk(edge, ends, members);
        }

        private void walk(int edge, int[] counts, int @Nullable [] members) {
            int low = clamp((box[4 * edge + 2] - y0) * perY, rows);
            int high = clamp((box[4 * edge + 3] - y0) * perY, rows);
            double ax = (xy[2 * edge] - x0) * perX;
            double ay = (xy[2 * edge + 1] - y0) * perY;
            double bx = (xy[2 * to[edge]] - x0) * perX;
            double by = (xy[2 * to[edge] + 1] - y0) * perY;
            double slope = low == high ? 0 : (bx - ax) / (by - ay);
            double doubt = 1e-6 + 1e-8 * Math.abs(slope);
            for (int row = low; row <= high; row++) {
                double from = Math.min(ax, bx);
                double until = Math.max(ax, bx);
                if (low != high) {
                    double atBottom = ax + (row - ay) * slope;
                    double atTop = ax + (row + 1 - ay) * slope;
                    from = Math.max(from, Math.min(atBottom, atTop) - doubt);
                    until = Math.min(until, Math.max(atBottom, atTop) + doubt);
                }
                int last = clamp(until, columns);
                for (int column = clamp(from, columns); column <= last; column++) {
                    int cell = row * columns + column;
                    if (members == null) {
                        counts[cell]++;
                    } else {
                        members[--counts[cell]] = edge;
                    }
                }
            }
        }

        private int clamp(double position, int count) {
            return (int) Math.max(0, Math.min(count - 1, position));
        }
    }

    private @Nullable Defect compare(int i, int j) {
        if (to[i] == j || to[j] == i) {
            return null; // neighbours share a point; that they retrace each other is found elsewhere
        }
        int contact = contact(i, to[i], j, to[j]);
        if (contact == APART) {
            return null;
        }
        if (ringOf[i] == ringOf[j]) {
            return Defect.SELF_CROSSING;
        }
        ringsTouch = true;
        return contact == CROSSING ? Defect.RINGS_OVERLAP : null;
    }

    private int contact(int a, int b, int c, int d) {
        int sideC = side(a, b, c);
        int sideD = side(a, b, d);
        if (sideC * sideD > 0) {
            return APART;
        }
        int sideA = side(c, d, a);
        int sideB = side(c, d, b);
        if (sideA * sideB > 0) {
            return APART;
        }
        // On one line, and their boxes meet: so do they.
        return sideA * sideB < 0 && sideC * sideD < 0 ? CROSSING : TOUCHING;
    }

    /** On which side of the line from vertex a to vertex b vertex c lies: 1 left, -1 right, 0 on it. */
    private int side(int a, int b, int c) {
        return side(xy[2 * a], xy[2 * a + 1], xy[2 * b], xy[2 * b + 1], xy[2 * c], xy[2 * c + 1]);
    }

    private static int side(double ax, double ay, double bx, double by, double cx, double cy) {
        double first = (ax - cx) * (by - cy);
        double second = (ay - cy) * (bx - cx);
        double determinant = first - second;
        double doubt = FILTER * (Math.abs(first) + Math.abs(second));
        if (determinant > doubt) {
            return 1;
        }
        if (-determinant > doubt) {
            return -1;
        }
        return CGAlgorithmsDD.orientationIndex(ax, ay, bx, by, cx, cy);
    }

    private @Nullable Defect holes() {
        if (ringsTouch || polygon.rings > FEW_HOLES) {
            return askJts();
        }
        for (int hole = 1; hole < polygon.rings; hole++) {
            if (!inside(polygon.ringStart(hole), 0)) {
                return Defect.HOLE_OUTSIDE;
            }
        }
        for (int hole = 1; hole < polygon.rings; hole++) {
            for (int other = 1; other < polygon.rings; other++) {
                if (hole != other && inside(polygon.ringStart(hole), other)) {
                    return Defect.RINGS_OVERLAP;
                }
            }
        }
        return null;
    }

    /** Whether a vertex lies inside a ring that it is not on. */
    private boolean inside(int vertex, int ring) {
        double y = xy[2 * vertex + 1];
        boolean inside = false;
        for (int a = polygon.ringStart(ring); a < polygon.ringEnd[ring]; a++) {
            int b = to[a];
            boolean rises = xy[2 * b + 1] > y;
            if ((xy[2 * a + 1] > y) != rises && (side(a, b, vertex) > 0) == rises) {
                inside = !inside;
            }
        }
        return inside;
    }

    private @Nullable Defect askJts() {
        TopologyValidationError error = new IsValidOp(RingRepair.toJts(polygon)).getValidationError();
        if (error == null) {
            return null;
        }
        return error.getErrorType() == TopologyValidationError.HOLE_OUTSIDE_SHELL
                ? Defect.HOLE_OUTSIDE
                : Defect.RINGS_OVERLAP;
    }
}
