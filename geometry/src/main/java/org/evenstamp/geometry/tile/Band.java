package org.evenstamp.geometry.tile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;

/**
 * The features near some rows of tiles, each tile with a list of those that may reach it or its neighbours. Of a map that
 * repeats itself the rows at the other end belong to those near its rim.
 */
final class Band {
    private final TileGrid grid;
    private final int firstRow;
    private final int endRow;
    private final List<Collector> parts;
    /** For every tile of the band, where its list begins; one more at the end. */
    private final int[] start;
    /** Part and number of a feature, side by side. */
    private final int[] members;

    /** The last row below the first one and the first row above the last one, where the map repeats itself and they lie outside. */
    private final List<Band> beyond;

    private Band(
            TileGrid grid,
            int firstRow,
            int endRow,
            List<Collector> parts,
            int[] start,
            int[] members,
            List<Band> beyond) {
        this.grid = grid;
        this.firstRow = firstRow;
        this.endRow = endRow;
        this.beyond = beyond;
        this.parts = parts;
        this.start = start;
        this.members = members;
    }

    /** Keeps the features that set land apart from all else: cavities and textures, or protrusions. */
    private static final class Collector implements PolygonSink {
        private final LayerRules rules;
        private final double minY;
        private final double maxY;
        private final PolygonStore store = new PolygonStore();
        private final double[] box = new double[4];
        private double[] boxes = new double[1024];

        Collector(LayerRules rules, double minY, double maxY) {
            this.rules = rules;
            this.minY = minY;
            this.maxY = maxY;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            if (!setsLandApart(rules, polygon)) {
                return;
            }
            polygon.box(box);
            double x0 = box[0];
            double y0 = box[1];
            double x1 = box[2];
            double y1 = box[3];
            Repeat repeat = polygon.traits.repeat();
            double spanY = repeat == null ? 0 : (repeat.rows() - 1) * repeat.dyMetres();
            if (y0 + Math.min(0, spanY) > maxY || y1 + Math.max(0, spanY) < minY) {
                return;
            }
            int number = store.add(polygon);
            if (4 * number + 4 > boxes.length) {
                boxes = Arrays.copyOf(boxes, 2 * boxes.length);
            }
            boxes[4 * number] = x0;
            boxes[4 * number + 1] = y0;
            boxes[4 * number + 2] = x1;
            boxes[4 * number + 3] = y1;
        }
    }

    private static boolean setsLandApart(LayerRules rules, PackedPolygon polygon) {
        Layer layer = rules.layerOf(polygon.traits);
        return layer != null && (layer.kind() == Layer.Kind.LAND) != rules.drawnAreCavities();
    }

    /** Returns the share of land in every cell of the whole stamp, {@code perTile} cells along a tile, row 0 first. */
    static double[] landMap(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            AlikeTiles alike,
            int perTile,
            int threads,
            Progress progress) {
        LayeredSums total = land(layout, rules, grid, perTile, 0, grid.rows(), threads, progress);
        alike.spread(total.sumsOf(ONLY), perTile);
        return land(rules, total);
    }

    private static final Layer ONLY = new Layer(Layer.Kind.LAND, 0, null, null);

    /** Returns the share of land in every cell of some rows of tiles, as {@link #landMap} has them. */
    static double[] landRows(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            int perTile,
            int firstRow,
            int endRow,
            Progress progress) {
        return land(rules, land(layout, rules, grid, perTile, firstRow, endRow, 1, progress));
    }

    private static LayeredSums land(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            int perTile,
            int firstRow,
            int endRow,
            int threads,
            Progress progress) {
        TileGrid fine = new TileGrid(
                grid.originXMetres(),
                grid.originYMetres(),
                grid.pitchMetres() / perTile,
                grid.columns() * perTile,
                grid.rows() * perTile);
        class Drawer implements PolygonSink {
            private final LayeredSums sums =
                    new LayeredSums(fine, firstRow * perTile, endRow * perTile, traits -> ONLY);

            @Override
            public void accept(PackedPolygon polygon) {
                if (setsLandApart(rules, polygon)) {
                    sums.accept(polygon);
                }
            }
        }
        LayeredSums total = new Drawer().sums;
        for (Drawer drawer : layout.forEach(Drawer::new, threads, "mapping wide land", progress)) {
            total.merge(drawer.sums);
        }
        return total;
    }

    private static double[] land(LayerRules rules, LayeredSums total) {
        double[] land = total.sumsOf(ONLY).coverage();
        for (int i = 0; i < land.length; i++) {
            double covered = Math.max(0, Math.min(1, land[i]));
            land[i] = rules.drawnAreCavities() ? 1 - covered : covered;
        }
        return land;
    }

    /** Collects for rows {@code firstRow .. endRow - 1}, with those at the other end of a map that repeats itself. */
    static Band collect(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            int firstRow,
            int endRow,
            boolean repeats,
            int threads,
            Progress progress) {
        List<Band> beyond = new ArrayList<>();
        if (repeats && firstRow == 0 && endRow < grid.rows()) {
            beyond.add(collect(layout, rules, grid, grid.rows() - 1, grid.rows(), List.of(), threads, progress));
        }
        if (repeats && firstRow > 0 && endRow == grid.rows()) {
            beyond.add(collect(layout, rules, grid, 0, 1, List.of(), threads, progress));
        }
        return collect(layout, rules, grid, firstRow, endRow, beyond, threads, progress);
    }

    private static Band collect(
            PolygonSource layout,
            LayerRules rules,
            TileGrid grid,
            int firstRow,
            int endRow,
            List<Band> beyond,
            int threads,
            Progress progress) {
        double pitch = grid.pitchMetres();
        double minY = grid.originYMetres() + (firstRow - 1) * pitch;
        double maxY = grid.originYMetres() + (endRow + 1) * pitch;
        List<Collector> parts = layout.forEach(
                () -> new Collector(rules, minY, maxY), threads, "fetching features for the squeeze moments", progress);
        int tiles = (endRow - firstRow) * grid.columns();
        int[] start = new int[tiles + 1];
        visit(grid, firstRow, endRow, parts, (part, number, tile) -> start[tile + 1]++);
        for (int i = 0; i < tiles; i++) {
            start[i + 1] = Math.addExact(start[i], start[i + 1]);
        }
        int[] next = Arrays.copyOf(start, tiles);
        int[] members = new int[Math.multiplyExact(2, start[tiles])];
        visit(grid, firstRow, endRow, parts, (part, number, tile) -> {
            int at = 2 * next[tile]++;
            members[at] = part;
            members[at + 1] = number;
        });
        return new Band(grid, firstRow, endRow, parts, start, members, beyond);
    }

    private interface Visitor {
        void visit(int part, int number, int tile);
    }

    private static void visit(TileGrid grid, int firstRow, int endRow, List<Collector> parts, Visitor visitor) {
        double pitch = grid.pitchMetres();
        for (int p = 0; p < parts.size(); p++) {
            Collector part = parts.get(p);
            for (int n = 0; n < part.store.size(); n++) {
                Repeat repeat = part.store.traitsOf(n).repeat();
                double spanX = repeat == null ? 0 : (repeat.columns() - 1) * repeat.dxMetres();
                double spanY = repeat == null ? 0 : (repeat.rows() - 1) * repeat.dyMetres();
                double x0 = part.boxes[4 * n] + Math.min(0, spanX) - grid.originXMetres();
                double y0 = part.boxes[4 * n + 1] + Math.min(0, spanY) - grid.originYMetres();
                double x1 = part.boxes[4 * n + 2] + Math.max(0, spanX) - grid.originXMetres();
                double y1 = part.boxes[4 * n + 3] + Math.max(0, spanY) - grid.originYMetres();
                int columnFrom = (int) Math.max(0, Math.floor(x0 / pitch) - 1);
                int columnTo = (int) Math.min(grid.columns() - 1, Math.floor(x1 / pitch) + 1);
                int rowFrom = (int) Math.max(firstRow, Math.floor(y0 / pitch) - 1);
                int rowTo = (int) Math.min(endRow - 1, Math.floor(y1 / pitch) + 1);
                for (int row = rowFrom; row <= rowTo; row++) {
                    for (int column = columnFrom; column <= columnTo; column++) {
                        visitor.visit(p, n, (row - firstRow) * grid.columns() + column);
                    }
                }
            }
        }
    }

    /** Draws the features about a tile of the map, which may lie in the rows beyond this band. */
    void draw(int tile, CoverageSums picture, int cells, double x, double y, double cell) {
        int row = tile / grid.columns();
        Band band = this;
        for (Band other : beyond) {
            band = row >= other.firstRow && row < other.endRow ? other : band;
        }
        band.drawOwn(tile, picture, cells, x, y, cell);
    }

    /** Draws the features of a tile's list into a square picture. */
    private void drawOwn(int tile, CoverageSums picture, int cells, double x, double y, double cell) {
        picture.restart(x, y, cell);
        double farX = x + cells * cell;
        double farY = y + cells * cell;
        PackedPolygon polygon = new PackedPolygon();
        int local = tile - firstRow * grid.columns();
        for (int m = start[local]; m < start[local + 1]; m++) {
            Collector part = parts.get(members[2 * m]);
            int number = members[2 * m + 1];
            double[] box = part.boxes;
            Repeat repeat = part.store.traitsOf(number).repeat();
            if (repeat == null) {
                if (box[4 * number] < farX
                        && box[4 * number + 2] > x
                        && box[4 * number + 1] < farY
                        && box[4 * number + 3] > y) {
                    part.store.get(number, polygon);
                    picture.add(polygon);
                }
                continue;
            }
            int[] columns = copies(repeat.columns(), repeat.dxMetres(), box[4 * number], box[4 * number + 2], x, farX);
            int[] rows = copies(repeat.rows(), repeat.dyMetres(), box[4 * number + 1], box[4 * number + 3], y, farY);
            part.store.get(number, polygon);
            for (int j = rows[0]; j <= rows[1]; j++) {
                for (int i = columns[0]; i <= columns[1]; i++) {
                    picture.add(polygon, i * repeat.dxMetres(), j * repeat.dyMetres());
                }
            }
        }
    }

    /** First and last copy whose stretch from low to high may reach into the window. */
    private static int[] copies(int count, double step, double low, double high, double from, double to) {
        if (step == 0) {
            return new int[] {0, low < to && high > from ? count - 1 : -1};
        }
        double a = (from - high) / step;
        double b = (to - low) / step;
        return new int[] {
            (int) Math.max(0, Math.floor(Math.min(a, b))), (int) Math.min(count - 1, Math.ceil(Math.max(a, b)))
        };
    }
}
