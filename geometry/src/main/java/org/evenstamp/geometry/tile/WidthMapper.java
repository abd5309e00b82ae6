package org.evenstamp.geometry.tile;

import java.util.Arrays;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.ToDoubleFunction;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Workers;
import org.evenstamp.geometry.measure.FacingWalls;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Finds the narrowest cavity and the narrowest protrusion of every tile from the walls of the drawn features, as
 * {@link FacingWalls} measures them: at least one of the two walls runs through the tile.
 *
 * <p>Places narrower than a tile's side are all found, however narrow they are; wider ones are not told. Walls of textures
 * are not looked at. Steps between cavities of two depths count as walls. The result does not depend on the number of
 * threads or on how much memory there is.
 */
final class WidthMapper {
    /** Walls this share of a tile's side beyond its rim count as running through it. */
    static final double SLACK = 1e-6;
    /** What the walls of a layout take in memory, over what its vertices take. */
    private static final int BYTES_PER_BYTE = 3;

    private static final int MOST_BINS = 64;

    private final TileGrid grid;
    private final LayerRules rules;
    private final int threads;
    private final Progress progress;

    /** Narrowest protrusion between or of drawn features, m, infinite where none narrower than a tile's side is known. */
    private final double[] protrusion;
    /** Narrowest cavity likewise. */
    private final double[] cavity;

    WidthMapper(TileGrid grid, LayerRules rules, int threads, Progress progress) {
        this.grid = grid;
        this.rules = rules;
        this.threads = threads;
        this.progress = progress;
        protrusion = new double[grid.size()];
        cavity = new double[grid.size()];
        Arrays.fill(protrusion, Double.POSITIVE_INFINITY);
        Arrays.fill(cavity, Double.POSITIVE_INFINITY);
    }

    /**
     * Goes through the merged layout.
     *
     * @param bandBytes memory for the walls of one band of tile rows
     * @param layoutBytes what the vertices of all features take
     */
    void measure(PolygonSource layout, long bandBytes, long layoutBytes) {
        int bands = (int) Math.min(grid.rows(), layoutBytes * BYTES_PER_BYTE / Math.max(1, bandBytes) + 1);
        int rowsPerBand = (grid.rows() + bands - 1) / bands;
        try (Stage stage = progress.stage("widths", grid.size(), "tiles")) {
            for (int first = 0; first < grid.rows(); first += rowsPerBand) {
                int end = Math.min(grid.rows(), first + rowsPerBand);
                WallSet walls = WallSet.collect(layout, rules, grid, first, end, threads, progress);
                AtomicInteger nextRow = new AtomicInteger(first);
                Workers.run(threads, () -> {
                    Search search = new Search(walls);
                    int row;
                    while ((row = nextRow.getAndIncrement()) < end) {
                        for (int column = 0; column < grid.columns(); column++) {
                            search.tile(column, row);
                        }
                        stage.advance(grid.columns());
                    }
                    return search;
                });
            }
        }
    }

    /** Returns the narrowest protrusion of every tile in metres, textures included, NaN where none is known. */
    double[] protrusions(TileSums sums) {
        return withTextures(protrusion, sums, TextureMeasures::protrusionMin);
    }

    /** Returns the narrowest cavity likewise. */
    double[] cavities(TileSums sums) {
        return withTextures(cavity, sums, TextureMeasures::cavityMin);
    }

    private static double[] withTextures(double[] drawn, TileSums sums, ToDoubleFunction<TextureMeasures> width) {
        double[] all = drawn.clone();
        for (TileSums.TexturePart textured : sums.textures) {
            double its = width.applyAsDouble(textured.measures);
            for (int tile = 0; tile < all.length; tile++) {
                if (textured.share[tile] > TileSums.NOTHING) {
                    all[tile] = Math.min(all[tile], its);
                }
            }
        }
        for (int tile = 0; tile < all.length; tile++) {
            all[tile] = Double.isInfinite(all[tile]) ? Double.NaN : all[tile];
        }
        return all;
    }

    /** One worker's search. */
    private final class Search {
        private final WallSet set;
        private final FacingWalls walls = new FacingWalls();
        private final FacingWalls.Stretches first = new FacingWalls.Stretches();
        private final FacingWalls.Stretches second = new FacingWalls.Stretches();
        private final double[] window = new double[4];
        private final double[] box = new double[4];
        private final int[] range = new int[4];
        /** For every run the tile that it was last fetched for, plus one. */
        private final int[] fetched;

        private int[] near = new int[64];
        private int nearCount;
        private int arrayCount;
        private final RunBins bins = new RunBins();
        private double bestCavity;
        private double bestProtrusion;

        Search(WallSet set) {
            this.set = set;
            fetched = new int[set.size()];
        }

        void tile(int column, int row) {
            double pitch = grid.pitchMetres();
            window[0] = grid.originXMetres() + (column - SLACK) * pitch;
            window[1] = grid.originYMetres() + (row - SLACK) * pitch;
            window[2] = grid.originXMetres() + (column + 1 + SLACK) * pitch;
            window[3] = grid.originYMetres() + (row + 1 + SLACK) * pitch;
            if (set.begin(column, row) == set.end(column, row)) {
                return;
            }
            bestCavity = pitch;
            bestProtrusion = pitch;
            fetch(column, row);
            bins.fill(set, near, nearCount, window, pitch);
            for (int at = set.begin(column, row); at < set.end(column, row); at++) {
                alone(set.run(set.member(at)));
            }
            for (int at = set.begin(column, row); at < set.end(column, row); at++) {
                WallSet.Run run = set.run(set.member(at));
                if (run.polygon.array == null) {
                    around(run, 0, 0);
                } else if (nearCount > 1) {
                    copies(run, window[0], window[1], window[2], window[3]);
                    int x0 = range[0];
                    int x1 = range[1];
                    int y1 = range[3];
                    for (int j = range[2]; j <= y1; j++) {
                        for (int i = x0; i <= x1; i++) {
                            around(run, i, j);
                        }
                    }
                }
            }
            int tile = grid.index(column, row);
            cavity[tile] = bestCavity < pitch ? bestCavity : Double.POSITIVE_INFINITY;
            protrusion[tile] = bestProtrusion < pitch ? bestProtrusion : Double.POSITIVE_INFINITY;
        }

        /** Lists the runs of this tile and its neighbours once each. */
        private void fetch(int column, int row) {
            int mark = grid.index(column, row) + 1;
            nearCount = 0;
            arrayCount = 0;
            for (int r = Math.max(0, row - 1); r <= Math.min(grid.rows() - 1, row + 1); r++) {
                for (int c = Math.max(0, column - 1); c <= Math.min(grid.columns() - 1, column + 1); c++) {
                    for (int at = set.holds(r) ? set.begin(c, r) : 0; set.holds(r) && at < set.end(c, r); at++) {
                        int number = set.member(at);
                        if (fetched[number] == mark) {
                            continue;
                        }
                        fetched[number] = mark;
                        if (nearCount == near.length) {
                            near = Arrays.copyOf(near, 2 * nearCount);
                        }
                        near[nearCount++] = number;
                        if (set.run(number).polygon.array != null) {
                            // Arrays first: they are asked one by one.
                            near[nearCount - 1] = near[arrayCount];
                            near[arrayCount++] = number;
                        }
                    }
                }
            }
        }

        /** What is known of a run beforehand. */
        private void alone(WallSet.Run run) {
            WallSet.Polygon polygon = run.polygon;
            if (polygon.array != null) {
                copies(run, window[0], window[1], window[2], window[3]);
                if (range[0] > range[1] || range[2] > range[3]) {
                    return;
                }
            }
            take(polygon, polygon.inside, polygon.outside);
        }

        private void take(WallSet.Polygon polygon, double inside, double outside) {
            if (polygon.cavity) {
                bestCavity = Math.min(bestCavity, inside);
            } else {
                bestProtrusion = Math.min(bestProtrusion, inside);
            }
            if (rules.drawnAreCavities()) {
                bestProtrusion = Math.min(bestProtrusion, outside);
            } else {
                bestCavity = Math.min(bestCavity, outside);
            }
        }

        private double inside(WallSet.Polygon polygon) {
            return polygon.cavity ? bestCavity : bestProtrusion;
        }

        private double outside() {
            return rules.drawnAreCavities() ? bestProtrusion : bestCavity;
        }

        /** How far a run has to look. */
        private double most(WallSet.Polygon polygon) {
            double inside = inside(polygon);
            return polygon.array != null || polygon.least >= inside ? outside() : Math.max(inside, outside());
        }

        /** Looks around from a run or a copy of it, as far as something narrower can be. */
        private void around(WallSet.Run run, int column, int row) {
            WallSet.Polygon polygon = run.polygon;
            Repeat array = polygon.array;
            double shiftX = array == null ? 0 : column * array.dxMetres();
            double shiftY = array == null ? 0 : row * array.dyMetres();
            box[0] = Math.max(run.box[0] + shiftX, window[0]);
            box[1] = Math.max(run.box[1] + shiftY, window[1]);
            box[2] = Math.min(run.box[2] + shiftX, window[2]);
            box[3] = Math.min(run.box[3] + shiftY, window[3]);
            if (array != null && !hasCompany(run)) {
                return;
            }
            first.clear();
            run.load(first, column, row, box[0], box[1], box[2], box[3]);
            if (first.size() == 0) {
                return;
            }
            double radius = Math.min(most(polygon), bins.side() / 2);
            while (true) {
                loadAll(radius);
                walls.restart(Math.min(inside(polygon), radius), Math.min(outside(), radius));
                walls.compare(first, second, window);
                // Farther away than it looked there may be a wall between.
                take(polygon, sure(walls.insideMetres(), radius), sure(walls.outsideMetres(), radius));
                if (radius >= most(polygon)) {
                    return;
                }
                radius = Math.min(2 * radius, most(polygon));
            }
        }

        private static double sure(double width, double radius) {
            return width < radius ? width : Double.POSITIVE_INFINITY;
        }

        /** Whether anything but its own array is near enough to matter. */
        private boolean hasCompany(WallSet.Run run) {
            double radius = most(run.polygon);
            bins.find(box, radius);
            for (int n = 0; n < bins.found(); n++) {
                if (away(box, bins.found(n).box) < radius) {
                    return true;
                }
            }
            for (int n = 0; n < arrayCount; n++) {
                WallSet.Run other = set.run(near[n]);
                if (other.polygon != run.polygon) {
                    copies(other, box[0] - radius, box[1] - radius, box[2] + radius, box[3] + radius);
                    if (range[0] <= range[1] && range[2] <= range[3]) {
                        return true;
                    }
                }
            }
            return false;
        }

        /** Loads all walls within a distance of the box. */
        private void loadAll(double radius) {
            double x0 = box[0] - radius;
            double y0 = box[1] - radius;
            double x1 = box[2] + radius;
            double y1 = box[3] + radius;
            second.clear();
            bins.find(box, radius);
            for (int n = 0; n < bins.found(); n++) {
                WallSet.Run other = bins.found(n);
                if (away(box, other.box) <= radius) {
                    other.load(second, 0, 0, x0, y0, x1, y1);
                }
            }
            for (int n = 0; n < arrayCount; n++) {
                WallSet.Run other = set.run(near[n]);
                copies(other, x0, y0, x1, y1);
                int lastRow = range[3];
                int lastColumn = range[1];
                for (int j = range[2]; j <= lastRow; j++) {
                    for (int i = range[0]; i <= lastColumn; i++) {
                        other.load(second, i, j, x0, y0, x1, y1);
                    }
                }
            }
        }

        private static double away(double[] a, double[] b) {
            double dx = Math.max(0, Math.max(b[0] - a[2], a[0] - b[2]));
            double dy = Math.max(0, Math.max(b[1] - a[3], a[1] - b[3]));
            return Math.max(dx, dy);
        }

        /** First and last column and row of an array's copies whose boxes may meet a box. */
        private void copies(WallSet.Run run, double x0, double y0, double x1, double y1) {
            Repeat array = run.polygon.array;
            if (array == null) {
                throw new IllegalStateException("a run that stands for no array has no copies");
            }
            span(array.columns(), array.dxMetres(), run.box[0], run.box[2], x0, x1, 0);
            span(array.rows(), array.dyMetres(), run.box[1], run.box[3], y0, y1, 2);
        }

        private void span(int count, double step, double low, double high, double from, double to, int at) {
            if (step == 0) {
                range[at] = 0;
                range[at + 1] = low <= to && high >= from ? count - 1 : -1;
                return;
            }
            double a = (from - high) / step;
            double b = (to - low) / step;
            range[at] = (int) Math.max(0, Math.ceil(Math.min(a, b)));
            range[at + 1] = (int) Math.min(count - 1, Math.floor(Math.max(a, b)));
        }
    }

    /** Runs by the squares of a raster over a tile and its neighbours that their boxes meet. */
    private static final class RunBins {
        private int across = 1;
        private double side = 1;
        private double left;
        private double low;
        private int[] start = new int[2];
        private int[] members = new int[64];
        private WallSet.Run[] runs = new WallSet.Run[64];
        private int[] seen = new int[64];
        private int round;
        private int[] hits = new int[64];
        private int hitCount;

        void fill(WallSet set, int[] numbers, int count, double[] window, double reach) {
            left = window[0] - reach;
            low = window[1] - reach;
            double width = window[2] - window[0] + 2 * reach;
            across = (int) Math.max(1, Math.min(MOST_BINS, Math.ceil(Math.sqrt(count / 2.0))));
            side = width / across;
            if (runs.length < count) {
                runs = Arrays.copyOf(runs, 2 * count);
                seen = Arrays.copyOf(seen, 2 * count);
                hits = Arrays.copyOf(hits, 2 * count);
            }
            if (start.length < across * across + 1) {
                start = new int[MOST_BINS * MOST_BINS + 1];
            }
            Arrays.fill(start, 0, across * across + 1, 0);
            for (int pass = 0; pass < 2; pass++) {
                for (int n = 0; n < count; n++) {
                    WallSet.Run run = set.run(numbers[n]);
                    if (run.polygon.array != null) {
                        continue;
                    }
                    runs[n] = run;
                    int x1 = place(run.box[2], left);
                    int y1 = place(run.box[3], low);
                    for (int y = place(run.box[1], low); y <= y1; y++) {
                        for (int x = place(run.box[0], left); x <= x1; x++) {
                            int bin = y * across + x;
                            if (pass == 0) {
                                start[bin]++;
                            } else {
                                members[--start[bin]] = n;
                            }
                        }
                    }
                }
                if (pass == 0) {
                    for (int bin = 0; bin < across * across; bin++) {
                        start[bin + 1] += start[bin];
                    }
                    int total = start[across * across];
                    if (members.length < total) {
                        members = new int[2 * total];
                    }
                }
            }
        }

        private int place(double at, double origin) {
            return (int) Math.max(0, Math.min(across - 1, Math.floor((at - origin) / side)));
        }

        double side() {
            return side;
        }

        /** Finds the runs that share a square with the box widened by so much. */
        void find(double[] box, double more) {
            round++;
            hitCount = 0;
            int x0 = place(box[0] - more, left);
            int x1 = place(box[2] + more, left);
            int y1 = place(box[3] + more, low);
            for (int y = place(box[1] - more, low); y <= y1; y++) {
                for (int x = x0; x <= x1; x++) {
                    int bin = y * across + x;
                    for (int at = start[bin]; at < start[bin + 1]; at++) {
                        int n = members[at];
                        if (seen[n] != round) {
                            seen[n] = round;
                            hits[hitCount++] = n;
                        }
                    }
                }
            }
        }

        int found() {
            return hitCount;
        }

        WallSet.Run found(int n) {
            return runs[hits[n]];
        }
    }
}
