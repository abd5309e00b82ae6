package org.evenstamp.geometry.tile;

import java.io.DataInput;
import java.io.DataOutput;
import java.io.IOException;
import java.util.Arrays;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.ToDoubleFunction;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.measure.FacingWalls;
import org.evenstamp.geometry.measure.Stretches;
import org.evenstamp.geometry.measure.TextureMeasures;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;

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

    private final TileGrid grid;
    private final LayerRules rules;
    private final AlikeTiles alike;
    private final int threads;
    private final Progress progress;

    /** Narrowest protrusion between or of drawn features, m, infinite where none narrower than a tile's side is known. */
    private final double[] protrusion;
    /** Narrowest cavity likewise. */
    private final double[] cavity;

    WidthMapper(TileGrid grid, LayerRules rules, AlikeTiles alike, int threads, Progress progress) {
        this.grid = grid;
        this.alike = alike;
        this.rules = rules;
        this.threads = threads;
        this.progress = progress;
        protrusion = new double[grid.size()];
        cavity = new double[grid.size()];
        Arrays.fill(protrusion, Double.POSITIVE_INFINITY);
        Arrays.fill(cavity, Double.POSITIVE_INFINITY);
    }

    /**
     * Takes what is known on tiles half as wide: the narrowest place of a tile is that of its four parts, if any of them
     * knows one. Tiles that do not match the map's are of no use.
     *
     * @param finer fields of a tile map of the same layout
     */
    void startFrom(FieldSet finer) {
        TileGrid parts = finer.grid();
        boolean matches = parts.pitchMetres() == grid.pitchMetres() / 2
                && parts.originXMetres() == grid.originXMetres()
                && parts.originYMetres() == grid.originYMetres();
        if (matches) {
            takeLeast(cavity, finer.get(TileFields.CAVITY_WIDTH_MIN));
            takeLeast(protrusion, finer.get(TileFields.PROTRUSION_WIDTH_MIN));
        }
    }

    private void takeLeast(double[] widths, Field finer) {
        TileGrid parts = finer.grid();
        for (int row = 0; row < parts.rows(); row++) {
            for (int column = 0; column < parts.columns(); column++) {
                int part = parts.index(column, row);
                double width = finer.at(part);
                // A texture may be wider than its tile; drawn features are then to be looked at.
                if (finer.known(part) && width < parts.pitchMetres()) {
                    int tile = grid.index(column / 2, row / 2);
                    widths[tile] = Math.min(widths[tile], width);
                }
            }
        }
    }

    /**
     * Goes through the merged layout.
     *
     * @param bandBytes memory for the walls of one band of tile rows
     * @param wallBytes what the walls of all features take
     */
    void measure(PolygonSource layout, long bandBytes, long wallBytes) {
        int bands = (int) Math.min(grid.rows(), wallBytes / Math.max(1, bandBytes) + 1);
        int rowsPerBand = (grid.rows() + bands - 1) / bands;
        try (Stage stage = progress.stage("widths", grid.size(), "tiles")) {
            for (int first = 0; first < grid.rows(); first += rowsPerBand) {
                int end = Math.min(grid.rows(), first + rowsPerBand);
                rows(layout, first, end, stage);
            }
        }
        alike.spread(cavity);
        alike.spread(protrusion);
    }

    /** Measures some rows. */
    void measureRows(PolygonSource layout, int first, int end) {
        try (Stage stage = progress.stage("widths", (long) (end - first) * grid.columns(), "tiles")) {
            rows(layout, first, end, stage);
        }
    }

    private void rows(PolygonSource layout, int first, int end, Stage stage) {
        WallSet walls = WallSet.collect(layout, rules, grid, first, end, threads, progress);
        AtomicInteger nextRow = new AtomicInteger(first);
        Workers.run(threads, () -> {
            Search search = new Search(walls);
            int row;
            while ((row = nextRow.getAndIncrement()) < end) {
                for (int column = 0; column < grid.columns(); column++) {
                    if (alike.measured(grid.index(column, row))) {
                        search.tile(column, row);
                    }
                }
                stage.advance(grid.columns());
            }
            return search;
        });
    }

    /** Writes what was found for some rows. */
    void writeRows(int first, int end, DataOutput out) throws IOException {
        for (int i = first * grid.columns(); i < end * grid.columns(); i++) {
            out.writeDouble(protrusion[i]);
            out.writeDouble(cavity[i]);
        }
    }

    /** Takes what was found for some rows. */
    void readRows(int first, int end, DataInput in) throws IOException {
        for (int i = first * grid.columns(); i < end * grid.columns(); i++) {
            protrusion[i] = in.readDouble();
            cavity[i] = in.readDouble();
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
        private final Stretches stretches = new Stretches();
        private final double[] window = new double[4];
        private final int[] range = new int[4];
        /** For every run the tile that it was last fetched for, plus one. */
        private final int[] fetched;

        private int[] near = new int[64];
        private int nearCount;
        private double bestCavity;
        private double bestProtrusion;
        /** How far the search had to look in the tile before: a good guess for the next. */
        private double guess = grid.pitchMetres() / 16;

        Search(WallSet set) {
            this.set = set;
            fetched = new int[set.size()];
        }

        void tile(int column, int row) {
            int tile = grid.index(column, row);
            double knownCavity = cavity[tile];
            double knownProtrusion = protrusion[tile];
            if (set.begin(column, row) == set.end(column, row)
                    || (Double.isFinite(knownCavity) && Double.isFinite(knownProtrusion))) {
                return;
            }
            double pitch = grid.pitchMetres();
            window[0] = grid.originXMetres() + (column - SLACK) * pitch;
            window[1] = grid.originYMetres() + (row - SLACK) * pitch;
            window[2] = grid.originXMetres() + (column + 1 + SLACK) * pitch;
            window[3] = grid.originYMetres() + (row + 1 + SLACK) * pitch;
            // What is known already is not looked for.
            bestCavity = Double.isFinite(knownCavity) ? 0 : pitch;
            bestProtrusion = Double.isFinite(knownProtrusion) ? 0 : pitch;
            for (int at = set.begin(column, row); at < set.end(column, row); at++) {
                alone(set.run(set.member(at)));
            }
            fetch(column, row);
            double reach = Math.min(guess, Math.max(bestCavity, bestProtrusion));
            while (true) {
                if (load(reach)) {
                    walls.restart(
                            Math.min(bestCavity, reach), Math.min(bestProtrusion, reach), !rules.drawnAreCavities());
                    walls.compare(stretches, window, reach);
                    // Farther away than it looked there may be a wall between.
                    bestCavity = Math.min(bestCavity, sure(walls.cavityMetres(), reach));
                    bestProtrusion = Math.min(bestProtrusion, sure(walls.protrusionMetres(), reach));
                }
                double most = Math.max(bestCavity, bestProtrusion);
                if (reach >= most) {
                    guess = Math.min(pitch, 1.5 * most);
                    break;
                }
                reach = Math.min(4 * reach, most);
            }
            cavity[tile] = bestCavity == 0 ? knownCavity : bestCavity < pitch ? bestCavity : Double.POSITIVE_INFINITY;
            protrusion[tile] = bestProtrusion == 0
                    ? knownProtrusion
                    : bestProtrusion < pitch ? bestProtrusion : Double.POSITIVE_INFINITY;
        }

        private static double sure(double width, double reach) {
            return width < reach ? width : Double.POSITIVE_INFINITY;
        }

        /** Lists the runs of this tile and its neighbours once each. */
        private void fetch(int column, int row) {
            int mark = grid.index(column, row) + 1;
            nearCount = 0;
            for (int r = Math.max(0, row - 1); r <= Math.min(grid.rows() - 1, row + 1); r++) {
                for (int c = Math.max(0, column - 1); c <= Math.min(grid.columns() - 1, column + 1); c++) {
                    for (int at = set.begin(c, r); at < set.end(c, r); at++) {
                        int number = set.member(at);
                        if (fetched[number] != mark) {
                            fetched[number] = mark;
                            if (nearCount == near.length) {
                                near = Arrays.copyOf(near, 2 * nearCount);
                            }
                            near[nearCount++] = number;
                        }
                    }
                }
            }
        }

        /** What is known of a run beforehand. */
        private void alone(WallSet.Run run) {
            WallSet.Polygon polygon = run.polygon;
            if (polygon.array != null) {
                copies(polygon.array, run.box, 0);
                if (range[0] > range[1] || range[2] > range[3]) {
                    return;
                }
            }
            if (polygon.cavity) {
                bestCavity = Math.min(bestCavity, polygon.inside);
            } else {
                bestProtrusion = Math.min(bestProtrusion, polygon.inside);
            }
            if (rules.drawnAreCavities()) {
                bestProtrusion = Math.min(bestProtrusion, polygon.outside);
            } else {
                bestCavity = Math.min(bestCavity, polygon.outside);
            }
        }

        /** Loads all walls within a distance of the tile; returns whether more is there than the copies of one array. */
        private boolean load(double reach) {
            stretches.clear();
            WallSet.Polygon only = null;
            boolean company = false;
            double x0 = window[0] - reach;
            double y0 = window[1] - reach;
            double x1 = window[2] + reach;
            double y1 = window[3] + reach;
            for (int n = 0; n < nearCount && !company; n++) {
                WallSet.Run run = set.run(near[n]);
                if (isNear(run, reach, x0, y0, x1, y1)) {
                    company = run.polygon.array == null || (only != null && only != run.polygon);
                    only = run.polygon;
                }
            }
            for (int n = 0; n < nearCount && company; n++) {
                WallSet.Run run = set.run(near[n]);
                if (!isNear(run, reach, x0, y0, x1, y1)) {
                    continue;
                }
                if (run.polygon.array == null) {
                    run.load(stretches, 0, 0, x0, y0, x1, y1);
                    continue;
                }
                int lastColumn = range[1];
                int lastRow = range[3];
                for (int j = range[2]; j <= lastRow; j++) {
                    for (int i = range[0]; i <= lastColumn; i++) {
                        run.load(stretches, i, j, x0, y0, x1, y1);
                    }
                }
            }
            return company;
        }

        /** Whether a run or any of its copies, whose range it then knows, comes near the tile. */
        private boolean isNear(WallSet.Run run, double reach, double x0, double y0, double x1, double y1) {
            if (run.polygon.array == null) {
                double[] box = run.box;
                return box[0] <= x1 && box[2] >= x0 && box[1] <= y1 && box[3] >= y0;
            }
            copies(run.polygon.array, run.box, reach);
            return range[0] <= range[1] && range[2] <= range[3];
        }

        /** First and last column and row of an array's copies whose boxes may come this near to the tile. */
        private void copies(Repeat array, double[] box, double reach) {
            span(array.columns(), array.dxMetres(), box[0], box[2], window[0] - reach, window[2] + reach, 0);
            span(array.rows(), array.dyMetres(), box[1], box[3], window[1] - reach, window[3] + reach, 2);
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
}
