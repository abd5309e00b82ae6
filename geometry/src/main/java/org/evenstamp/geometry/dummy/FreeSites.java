package org.evenstamp.geometry.dummy;

import java.util.Arrays;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.jspecify.annotations.Nullable;

/**
 * The sites of a stamp on which dummies may stand. Keeps them where they fit into memory; else goes through the layout again
 * for every placement, some rows of tiles at a time. Arrays over tiles are in the order of {@link TileGrid}.
 */
public final class FreeSites {
    private final DummyRules rules;
    private final MapOptions.Drawn drawn;
    private final TileGrid grid;
    private final PolygonSource layout;
    private final int threads;
    private final Lattice[] lattices;
    /** First tile row of every band, and one more at the end. */
    private final int[] bandRow;

    private final SiteMap @Nullable [] kept;
    private final double[] capacity;
    private final long count;

    FreeSites(
            DummyRules rules,
            MapOptions.Drawn drawn,
            MapOptions.Outline outline,
            TileGrid grid,
            long sitesAtOnce,
            PolygonSource layout,
            int threads,
            Progress progress) {
        this.rules = rules;
        this.drawn = drawn;
        this.grid = grid;
        this.layout = layout;
        this.threads = threads;
        Lattice large = new Lattice(rules, rules.shape(), outline, grid);
        DummyShape small = rules.small();
        lattices =
                small == null ? new Lattice[] {large} : new Lattice[] {large, new Lattice(rules, small, outline, grid)};
        bandRow = bands(sitesAtOnce);
        capacity = new double[grid.size()];
        long all = 0;
        SiteMap[] maps = new SiteMap[0];
        for (int band = 0; band + 1 < bandRow.length; band++) {
            maps = band(band, progress);
            for (int row = bandRow[band]; row < bandRow[band + 1]; row++) {
                for (int column = 0; column < grid.columns(); column++) {
                    long area = 0;
                    for (SiteMap map : maps) {
                        long sites = sites(map, row, column);
                        area += sites * map.lattice.template.area;
                        all += sites;
                    }
                    capacity[grid.index(column, row)] = Steps.squareMetres(area);
                }
            }
        }
        count = all;
        kept = bandRow.length == 2 ? maps : null;
    }

    private int[] bands(long sitesAtOnce) {
        long perTileRow = 1;
        for (Lattice lattice : lattices) {
            for (int row = 0; row < grid.rows(); row++) {
                int[] rows = lattice.rowsOf(row);
                perTileRow = Math.max(perTileRow, (rows[1] - rows[0]) * (lattice.columns + 64L) * lattices.length);
            }
        }
        int rows = (int) Math.max(1, Math.min(grid.rows(), sitesAtOnce / perTileRow));
        int bands = (grid.rows() + rows - 1) / rows;
        int[] starts = new int[bands + 1];
        for (int band = 0; band <= bands; band++) {
            starts[band] = Math.min(grid.rows(), band * rows);
        }
        return starts;
    }

    private SiteMap[] band(int band, Progress progress) {
        double low = Steps.of(grid.originYMetres() + bandRow[band] * grid.pitchMetres());
        double high = Steps.of(grid.originYMetres() + bandRow[band + 1] * grid.pitchMetres());
        long gap = Math.max(1, Steps.up(rules.gapMetres()));
        SiteMap[] maps = new SiteMap[lattices.length];
        for (int i = 0; i < maps.length; i++) {
            // Small dummies near the band's ends see the large ones beyond.
            long beyond = i + 1 < maps.length ? 2 * lattices[0].template.halfY + gap : 0;
            maps[i] = new SiteMap(lattices[i], lattices[i].rowFrom(low - beyond), lattices[i].rowFrom(high + beyond));
        }
        layout.forEach(() -> new Marker(maps, rules, drawn), threads, "finding free sites", progress);
        boolean drawnGroundOnly = rules.sense() != drawn;
        for (SiteMap map : maps) {
            map.settle(rules.insidePads(), !drawnGroundOnly);
        }
        if (maps.length > 1) {
            maps[1].blockBeside(maps[0], (double) gap);
        }
        return maps;
    }

    private static long sites(SiteMap map, int tileRow, int tileColumn) {
        long sites = 0;
        int[] rows = map.lattice.rowsOf(tileRow);
        for (int row = rows[0]; row < rows[1]; row++) {
            int[] columns = map.lattice.columnsOf(row, tileColumn);
            for (int column = columns[0]; column < columns[1]; column++) {
                sites += map.free(row, column) ? 1 : 0;
            }
        }
        return sites;
    }

    /** Returns the number of free sites. */
    public long count() {
        return count;
    }

    /** Returns the greatest dummy area that each tile can take, in square metres. */
    public double[] capacitySquareMetres() {
        return capacity.clone();
    }

    /**
     * Places dummies: in each tile so many that their area is less than a dummy off what is asked of it (in the middle lines of
     * a symmetric placement: less than its mirror images together), or all it can take. Whether that is more or less than asked
     * alternates from tile to tile, so that it evens out over a few of them. More asked of a tile never takes a dummy away, and
     * other tiles do not matter.
     *
     * @param askedSquareMetres dummy area for every tile, not negative
     * @param sink gets every dummy, row of tiles by row of tiles from below; with the role {@code dummy}, or with that of its
     *     sense where that is not what the layout draws
     * @throws IllegalArgumentException when an area is negative or not finite, or their number is not that of the tiles
     */
    public Placement place(double[] askedSquareMetres, PolygonSink sink, Progress progress) {
        if (askedSquareMetres.length != grid.size()) {
            throw new IllegalArgumentException(askedSquareMetres.length + " areas for " + grid.size() + " tiles");
        }
        for (double asked : askedSquareMetres) {
            if (!(asked >= 0) || Double.isInfinite(asked)) {
                throw new IllegalArgumentException("the area asked of a tile must not be negative, was " + asked);
            }
        }
        double[] placed = new double[grid.size()];
        long dummies = 0;
        Choice choice = new Choice();
        Stencil[] stencils = Arrays.stream(lattices)
                .map(lattice -> new Stencil(lattice.template, role()))
                .toArray(Stencil[]::new);
        for (int band = 0; band + 1 < bandRow.length; band++) {
            SiteMap[] maps = kept == null ? band(band, progress) : kept;
            int tiles = (bandRow[band + 1] - bandRow[band]) * grid.columns();
            try (Stage stage = progress.stage("placing dummies", tiles, "tiles")) {
                for (int row = bandRow[band]; row < bandRow[band + 1]; row++) {
                    for (int column = 0; column < grid.columns(); column++) {
                        int tile = grid.index(column, row);
                        if (askedSquareMetres[tile] > 0) {
                            double asked = askedSquareMetres[tile] * Steps.PER_METRE * Steps.PER_METRE;
                            placed[tile] =
                                    Steps.squareMetres(choice.make(maps, row, column, asked, rounding(column, row)));
                            dummies += choice.draw(maps, row, column, stencils, sink);
                        }
                    }
                    stage.advance(grid.columns());
                }
            }
        }
        return new Placement(grid, askedSquareMetres.clone(), placed, capacity, dummies, lattices[0].template.area);
    }

    /** A number between 0 and 1 for every tile, spread evenly over them; the same for mirror images. */
    private double rounding(int column, int row) {
        long m = 2L * column - (grid.columns() - 1);
        long n = 2L * row - (grid.rows() - 1);
        long place = rules.symmetric() ? Lattice.spread(Math.abs(m), Math.abs(n)) : Lattice.spread(m, n);
        return ((place >>> 12) + 0.5) * 0x1p-52;
    }

    private Role role() {
        if (rules.sense() == drawn) {
            return Role.DUMMY;
        }
        return rules.sense() == MapOptions.Drawn.CAVITIES ? Role.CAVITY : Role.PROTRUSION;
    }

    /** Takes sites of one tile, in their lattices' order. Mirror images are of the same order and taken together. */
    private static final class Choice {
        private long[] keys = new long[256];
        private int size;
        private long last;
        private boolean none;

        /**
         * Returns the area of what it takes, in square steps.
         *
         * @param rounding the share of the next dummy that has to be asked for to get it
         */
        long make(SiteMap[] maps, int tileRow, int tileColumn, double asked, double rounding) {
            size = 0;
            for (int kind = 0; kind < maps.length; kind++) {
                visit(maps[kind], kind, tileRow, tileColumn);
            }
            Arrays.sort(keys, 0, size);
            long area = 0;
            none = true;
            for (int from = 0, end; from < size; from = end) {
                for (end = from + 1; end < size && keys[end] == keys[from]; ) {
                    end++;
                }
                long more = (end - from) * maps[(int) (keys[from] & 1)].lattice.template.area;
                if (!(asked - area >= rounding * more)) {
                    break;
                }
                area += more;
                last = keys[from];
                none = false;
            }
            return area;
        }

        private void visit(SiteMap map, int kind, int tileRow, int tileColumn) {
            int[] rows = map.lattice.rowsOf(tileRow);
            for (int row = rows[0]; row < rows[1]; row++) {
                int[] columns = map.lattice.columnsOf(row, tileColumn);
                for (int column = columns[0]; column < columns[1]; column++) {
                    if (map.free(row, column)) {
                        if (size == keys.length) {
                            keys = Arrays.copyOf(keys, 2 * size);
                        }
                        keys[size++] = key(map, kind, row, column);
                    }
                }
            }
        }

        /** The order, unsigned made signed, with the kind of dummy as the last bit. */
        private static long key(SiteMap map, int kind, int row, int column) {
            return ((map.lattice.order(row, column) ^ Long.MIN_VALUE) & ~1L) | kind;
        }

        long draw(SiteMap[] maps, int tileRow, int tileColumn, Stencil[] stencils, PolygonSink sink) {
            if (none) {
                return 0;
            }
            long drawn = 0;
            for (int kind = 0; kind < maps.length; kind++) {
                Lattice lattice = maps[kind].lattice;
                int[] rows = lattice.rowsOf(tileRow);
                for (int row = rows[0]; row < rows[1]; row++) {
                    int[] columns = lattice.columnsOf(row, tileColumn);
                    for (int column = columns[0]; column < columns[1]; column++) {
                        if (maps[kind].free(row, column) && key(maps[kind], kind, row, column) <= last) {
                            sink.accept(stencils[kind].at(lattice.x(row, column), lattice.y(row)));
                            drawn++;
                        }
                    }
                }
            }
            return drawn;
        }
    }

    /** A polygon that moves from site to site. */
    private static final class Stencil {
        private final long[] corners;
        private final PackedPolygon polygon = new PackedPolygon();

        Stencil(Template template, Role role) {
            corners = template.corners;
            polygon.ensureVertices(corners.length / 2);
            polygon.endRing(corners.length / 2);
            polygon.traits = new Traits(null, role, null, null);
        }

        PackedPolygon at(long x, long y) {
            for (int i = 0; i < corners.length; i += 2) {
                polygon.xy[i] = Steps.metres(x + corners[i]);
                polygon.xy[i + 1] = Steps.metres(y + corners[i + 1]);
            }
            return polygon;
        }
    }
}
