package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.measure.FacingWalls;
import org.evenstamp.geometry.measure.Stretches;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * The walls near some rows of tiles, cut into runs of neighbouring edges that have a box each, and for every tile the runs
 * that may pass through it.
 *
 * <p>A polygon that stands for an array of small copies is one run, which is there once.
 */
final class WallSet {
    /** Edges of a run at the most. */
    private static final int LONGEST_RUN = 24;
    /** A polygon of at most so many edges is searched for walls that face each other, once and for all. */
    private static final int FEW = 6;

    private final TileGrid grid;
    private final int firstRow;
    private final int rows;
    private final List<Run> runs;
    private final int[] start;
    private final int[] members;

    /** Some edges of a ring in a row, drawn ground on their left. */
    static final class Run {
        /** Vertices of the ring, x and y in turn. */
        private final double[] xy;

        private final int ringFrom;
        private final int ringEnd;
        private final int first;
        private final int count;
        /** Runs of one polygon or of one copy of it have the same. */
        final Polygon polygon;
        /** Left, lower, right and upper end; of an array those of the first copy. */
        final double[] box;

        Run(double[] xy, int ringFrom, int ringEnd, int first, int count, Polygon polygon) {
            this.xy = xy;
            this.ringFrom = ringFrom;
            this.ringEnd = ringEnd;
            this.first = first;
            this.count = count;
            this.polygon = polygon;
            this.box = new double[] {
                Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
            };
            for (int i = 0; i <= count; i++) {
                int at = 2 * wrapped(first + i);
                box[0] = Math.min(box[0], xy[at] + polygon.shiftX);
                box[1] = Math.min(box[1], xy[at + 1] + polygon.shiftY);
                box[2] = Math.max(box[2], xy[at] + polygon.shiftX);
                box[3] = Math.max(box[3], xy[at + 1] + polygon.shiftY);
            }
        }

        private int wrapped(int vertex) {
            int length = ringEnd - ringFrom;
            int place = vertex - ringFrom;
            return ringFrom + (place < 0 ? place + length : place >= length ? place - length : place);
        }

        /**
         * Adds the edges that come near a box.
         *
         * @param column which copy of an array; 0 for a polygon alone
         * @param row which copy of an array; 0 for a polygon alone
         */
        void load(Stretches into, int column, int row, double x0, double y0, double x1, double y1) {
            Repeat array = polygon.array;
            long copy = array == null ? 0 : (long) row * array.columns() + column;
            into.begin(((long) polygon.number << 32) + copy, polygon.cavity);
            double sx = polygon.shiftX + (array == null ? 0 : column * array.dxMetres());
            double sy = polygon.shiftY + (array == null ? 0 : row * array.dyMetres());
            for (int e = first; e < first + count; e++) {
                int a = wrapped(e);
                int b = wrapped(e + 1);
                double ax = xy[2 * a] + sx;
                double ay = xy[2 * a + 1] + sy;
                double bx = xy[2 * b] + sx;
                double by = xy[2 * b + 1] + sy;
                if (Math.min(ax, bx) > x1 || Math.max(ax, bx) < x0 || Math.min(ay, by) > y1 || Math.max(ay, by) < y0) {
                    continue;
                }
                int before = wrapped(a - 1);
                into.add(xy[2 * before] + sx, xy[2 * before + 1] + sy, ax, ay, bx, by, a, b);
            }
        }

        private void load(Stretches into, int column, int row) {
            load(into, column, row, EVERYWHERE[0], EVERYWHERE[1], EVERYWHERE[2], EVERYWHERE[3]);
        }
    }

    /** What the runs of a polygon share. */
    static final class Polygon {
        /** Whether what was drawn is a cavity, else land. */
        final boolean cavity;
        /** The array of small copies that it stands for; null for a polygon alone. */
        final @Nullable Repeat array;

        private final double shiftX;
        private final double shiftY;
        /** Tells it from others. */
        private int number;
        /** Width inside that is known beforehand, infinite when none is. */
        double inside = Double.POSITIVE_INFINITY;
        /** Width between the copies of an array, infinite when they stand far apart. */
        double outside = Double.POSITIVE_INFINITY;

        Polygon(boolean cavity, @Nullable Repeat array, double shiftX, double shiftY) {
            this.cavity = cavity;
            this.array = array;
            this.shiftX = shiftX;
            this.shiftY = shiftY;
        }
    }

    private WallSet(TileGrid grid, int firstRow, int rows, List<Run> runs) {
        this.grid = grid;
        this.firstRow = firstRow;
        this.rows = rows;
        this.runs = runs;
        int polygons = 0;
        for (Run run : runs) {
            if (run.polygon.number == 0) {
                run.polygon.number = ++polygons;
            }
        }
        int tiles = rows * grid.columns();
        start = new int[tiles + 1];
        for (Run run : runs) {
            visit(run, tile -> start[tile + 1]++);
        }
        for (int i = 0; i < tiles; i++) {
            start[i + 1] = Math.addExact(start[i], start[i + 1]);
        }
        int[] next = Arrays.copyOf(start, tiles);
        members = new int[start[tiles]];
        for (int r = 0; r < runs.size(); r++) {
            int number = r;
            visit(runs.get(r), tile -> members[next[tile]++] = number);
        }
    }

    private interface TileVisitor {
        void visit(int tile);
    }

    private void visit(Run run, TileVisitor visitor) {
        double pitch = grid.pitchMetres();
        double slack = pitch * WidthMapper.SLACK;
        double[] box = run.box;
        Repeat array = run.polygon.array;
        double spanX = array == null ? 0 : (array.columns() - 1) * array.dxMetres();
        double spanY = array == null ? 0 : (array.rows() - 1) * array.dyMetres();
        double x0 = box[0] + Math.min(0, spanX) - slack - grid.originXMetres();
        double y0 = box[1] + Math.min(0, spanY) - slack - grid.originYMetres() - firstRow * pitch;
        double x1 = box[2] + Math.max(0, spanX) + slack - grid.originXMetres();
        double y1 = box[3] + Math.max(0, spanY) + slack - grid.originYMetres() - firstRow * pitch;
        int columnTo = (int) Math.min(grid.columns() - 1, Math.floor(x1 / pitch));
        int rowTo = (int) Math.min(rows - 1, Math.floor(y1 / pitch));
        for (int row = (int) Math.max(0, Math.floor(y0 / pitch)); row <= rowTo; row++) {
            for (int column = (int) Math.max(0, Math.floor(x0 / pitch)); column <= columnTo; column++) {
                visitor.visit(row * grid.columns() + column);
            }
        }
    }

    /** Returns how many runs there are. */
    int size() {
        return runs.size();
    }

    Run run(int number) {
        return runs.get(number);
    }

    /** Number of the first of a tile's runs in {@link #member}; of the tile one further it is the end. */
    int begin(int column, int row) {
        return start[(row - firstRow) * grid.columns() + column];
    }

    int end(int column, int row) {
        return start[(row - firstRow) * grid.columns() + column + 1];
    }

    int member(int at) {
        return members[at];
    }

    /** Returns whether the set holds a row of tiles. */
    boolean holds(int row) {
        return row >= firstRow && row < firstRow + rows;
    }

    /** Fetches the walls of some rows of tiles and of one row beyond on either side. */
    static WallSet collect(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            int firstRow,
            int endRow,
            int threads,
            Progress progress) {
        int from = Math.max(0, firstRow - 1);
        int to = Math.min(grid.rows(), endRow + 1);
        List<Run> runs = new ArrayList<>();
        for (Collector part : layout.forEach(
                () -> new Collector(rules, grid, from, to), threads, "fetching walls for the widths", progress)) {
            runs.addAll(part.runs);
        }
        return new WallSet(grid, from, to - from, runs);
    }

    private static final class Collector implements PolygonSink {
        private final LayerRules rules;
        private final double pitch;
        private final double minX;
        private final double maxX;
        private final double minY;
        private final double maxY;
        private final List<Run> runs = new ArrayList<>();
        private final double[] box = new double[4];
        private final FacingWalls walls = new FacingWalls();
        private final Stretches one = new Stretches();

        Collector(LayerRules rules, TileGrid grid, int firstRow, int endRow) {
            this.rules = rules;
            pitch = grid.pitchMetres();
            minX = grid.originXMetres() - pitch;
            maxX = grid.originXMetres() + (grid.columns() + 1) * pitch;
            minY = grid.originYMetres() + firstRow * pitch;
            maxY = grid.originYMetres() + endRow * pitch;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            Layer layer = rules.layerOf(polygon.traits);
            if (layer == null || layer.kind() == Layer.Kind.TEXTURED || rules.standsInLand(layer)) {
                return;
            }
            polygon.box(box);
            Repeat repeat = polygon.traits.repeat();
            double spanX = repeat == null ? 0 : (repeat.columns() - 1) * repeat.dxMetres();
            double spanY = repeat == null ? 0 : (repeat.rows() - 1) * repeat.dyMetres();
            if (!near(Math.min(0, spanX), Math.max(0, spanX), Math.min(0, spanY), Math.max(0, spanY))) {
                return;
            }
            boolean cavity = layer.kind() == Layer.Kind.CAVITY;
            double[] xy = leftHanded(polygon);
            if (repeat == null || repeat.count() == 1) {
                add(polygon, xy, new Polygon(cavity, null, 0, 0));
            } else if (Math.max(box[2] - box[0], box[3] - box[1]) < pitch / 2) {
                addArray(polygon, xy, new Polygon(cavity, repeat, 0, 0));
            } else {
                for (int row = 0; row < repeat.rows(); row++) {
                    for (int column = 0; column < repeat.columns(); column++) {
                        double x = column * repeat.dxMetres();
                        double y = row * repeat.dyMetres();
                        if (near(x, x, y, y)) {
                            add(polygon, xy, new Polygon(cavity, null, x, y));
                        }
                    }
                }
            }
        }

        private boolean near(double lowX, double highX, double lowY, double highY) {
            return box[0] + lowX <= maxX && box[2] + highX >= minX && box[1] + lowY <= maxY && box[3] + highY >= minY;
        }

        /** The vertices with the drawn ground on the left of every ring. */
        private static double[] leftHanded(PackedPolygon polygon) {
            double[] xy = Arrays.copyOf(polygon.xy, 2 * polygon.vertices());
            for (int ring = 0; ring < polygon.rings; ring++) {
                if (polygon.twiceSignedArea(ring) > 0 == (ring == 0)) {
                    continue;
                }
                int a = polygon.ringStart(ring);
                int b = polygon.ringEnd[ring] - 1;
                for (; a < b; a++, b--) {
                    for (int c = 0; c < 2; c++) {
                        double held = xy[2 * a + c];
                        xy[2 * a + c] = xy[2 * b + c];
                        xy[2 * b + c] = held;
                    }
                }
            }
            return xy;
        }

        private void add(PackedPolygon polygon, double[] xy, Polygon common) {
            Run last = null;
            for (int ring = 0; ring < polygon.rings; ring++) {
                int from = polygon.ringStart(ring);
                int end = polygon.ringEnd[ring];
                for (int first = from; first < end; first += LONGEST_RUN) {
                    int count = Math.min(LONGEST_RUN, end - first);
                    Run run = new Run(xy, from, end, first, count, common);
                    last = run;
                    if (run.box[0] <= maxX && run.box[2] >= minX && run.box[1] <= maxY && run.box[3] >= minY) {
                        runs.add(run);
                    }
                }
            }
            if (last != null && polygon.rings == 1 && polygon.vertices() <= FEW && isConvex(xy)) {
                noteWhole(polygon, last);
            }
        }

        /** A shape none of whose walls face each other, such as a triangle: the narrowest strip that holds it. */
        private void noteWhole(PackedPolygon polygon, Run run) {
            one.clear();
            run.load(one, 0, 0);
            double found = inside(run.polygon, Double.POSITIVE_INFINITY);
            if (Double.isInfinite(found)) {
                run.polygon.inside = narrowestStrip(polygon);
            }
        }

        /** Narrowest place inside of what was loaded. */
        private double inside(Polygon polygon, double reach) {
            walls.restart(
                    polygon.cavity ? Double.POSITIVE_INFINITY : reach,
                    polygon.cavity ? reach : Double.POSITIVE_INFINITY,
                    !polygon.cavity);
            walls.compare(one, EVERYWHERE, Double.POSITIVE_INFINITY);
            return polygon.cavity ? walls.cavityMetres() : walls.protrusionMetres();
        }

        private static double narrowestStrip(PackedPolygon polygon) {
            int n = polygon.ringEnd[0];
            double[] xy = polygon.xy;
            double narrowest = Double.POSITIVE_INFINITY;
            for (int i = 0; i < n; i++) {
                int j = (i + 1) % n;
                double dx = xy[2 * j] - xy[2 * i];
                double dy = xy[2 * j + 1] - xy[2 * i + 1];
                double farthest = 0;
                for (int k = 0; k < n; k++) {
                    double over = dx * (xy[2 * k + 1] - xy[2 * i + 1]) - dy * (xy[2 * k] - xy[2 * i]);
                    farthest = Math.max(farthest, Math.abs(over));
                }
                narrowest = Math.min(narrowest, farthest / Math.hypot(dx, dy));
            }
            return narrowest;
        }

        private static boolean isConvex(double[] xy) {
            int n = xy.length / 2;
            for (int i = 0; i < n; i++) {
                int j = (i + 1) % n;
                int k = (i + 2) % n;
                double turn = (xy[2 * j] - xy[2 * i]) * (xy[2 * k + 1] - xy[2 * j + 1])
                        - (xy[2 * j + 1] - xy[2 * i + 1]) * (xy[2 * k] - xy[2 * j]);
                if (turn < 0) {
                    return false;
                }
            }
            return true;
        }

        /** Small copies are alike in every tile: their widths, and those between neighbours, are found once. */
        private void addArray(PackedPolygon polygon, double[] xy, Polygon common) {
            List<Run> rings = new ArrayList<>();
            for (int ring = 0; ring < polygon.rings; ring++) {
                int from = polygon.ringStart(ring);
                int end = polygon.ringEnd[ring];
                rings.add(new Run(xy, from, end, from, end - from, common));
            }
            runs.addAll(rings);
            Repeat repeat = common.array;
            if (repeat == null) {
                throw new IllegalStateException("an array without copies");
            }
            common.inside = Double.POSITIVE_INFINITY;
            one.clear();
            rings.forEach(run -> run.load(one, 0, 0));
            double inside = inside(common, 0);
            common.inside =
                    Double.isInfinite(inside) && polygon.rings == 1 && isConvex(xy) ? narrowestStrip(polygon) : inside;
            common.outside = between(rings, repeat, common.cavity);
        }

        /** What a copy in the middle sees of the others is what all see; more of them are looked at as long as needed. */
        private double between(List<Run> rings, Repeat repeat, boolean cavity) {
            double step = Math.min(
                    repeat.columns() > 1 ? Math.abs(repeat.dxMetres()) : Double.POSITIVE_INFINITY,
                    repeat.rows() > 1 ? Math.abs(repeat.dyMetres()) : Double.POSITIVE_INFINITY);
            for (int around = 1; ; around *= 2) {
                double sure = Math.max(0, (around + 1) * step - Math.max(box[2] - box[0], box[3] - box[1]));
                double reach = Math.min(pitch, sure);
                int column = Math.min(around, (repeat.columns() - 1) / 2);
                int row = Math.min(around, (repeat.rows() - 1) / 2);
                int lastColumn = Math.min(repeat.columns() - 1, column + around);
                int lastRow = Math.min(repeat.rows() - 1, row + around);
                one.clear();
                for (int j = 0; j <= lastRow; j++) {
                    for (int i = 0; i <= lastColumn; i++) {
                        int x = i;
                        int y = j;
                        rings.forEach(run -> run.load(one, x, y));
                    }
                }
                double x = column * repeat.dxMetres();
                double y = row * repeat.dyMetres();
                double[] middle = {box[0] + x, box[1] + y, box[2] + x, box[3] + y};
                walls.restart(cavity ? 0 : reach, cavity ? reach : 0, !cavity);
                walls.compare(one, middle, Double.POSITIVE_INFINITY);
                double found = cavity ? walls.protrusionMetres() : walls.cavityMetres();
                if (found < reach) {
                    return found;
                }
                if (reach == pitch || step == 0) {
                    return Double.POSITIVE_INFINITY;
                }
            }
        }
    }

    private static final double[] EVERYWHERE = {
        Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY
    };
}
