package org.evenstamp.geometry.coverage;

import java.io.DataInput;
import java.io.DataOutput;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** Sums a layout on a grid, layer by layer, copies of arrays included. One a worker; {@link #merge} loses nothing. */
public final class LayeredSums implements PolygonSink {
    /** Drawn areas are summed in this fraction of a tile, as integers, so that their order does not matter either. */
    private static final double AREA_ONE = 0x1p50;

    private static final double LARGE = 0x1p62;
    private static final double LARGEST = 0x1p120;

    private final TileGrid grid;
    private final int firstRow;
    private final int endRow;
    private final Function<Traits, @Nullable Layer> layerOf;
    private final Map<Layer, CoverageSums> sums = new TreeMap<>(Layer.ORDER);
    private @Nullable Traits lastTraits;
    private @Nullable CoverageSums lastSums;
    /** The drawn area as a number of 128 bits: what lies far outside the grid may be any number of tiles. */
    private long drawnArea;

    private long fed;

    private long drawnAreaHigh;

    /**
     * Creates empty sums.
     *
     * @param grid the tiles
     * @param layerOf the layer of a polygon by its traits; null for a polygon that has no part in the relief
     */
    public LayeredSums(TileGrid grid, Function<Traits, @Nullable Layer> layerOf) {
        this(grid, 0, grid.rows(), layerOf);
    }

    /**
     * Creates empty sums of some rows of a grid, which are those of the whole grid bit for bit. Drawn areas count whole.
     *
     * @param firstRow first of the rows
     * @param endRow end of the rows
     */
    public LayeredSums(TileGrid grid, int firstRow, int endRow, Function<Traits, @Nullable Layer> layerOf) {
        this.grid = grid;
        this.firstRow = firstRow;
        this.endRow = endRow;
        this.layerOf = layerOf;
    }

    @Override
    public void accept(PackedPolygon polygon) {
        if (!polygon.traits.equals(lastTraits)) {
            lastTraits = polygon.traits;
            Layer layer = layerOf.apply(polygon.traits);
            lastSums = layer == null ? null : sumsOf(layer);
        }
        CoverageSums target = lastSums;
        if (target == null) {
            return;
        }
        feed(polygon, polygon.traits.repeat(), target);
        count(polygon);
    }

    /** Replaces the drawn area by that of so many copies of a layout, where not all that was drawn has been fed. */
    public void countDrawn(PolygonSource layout, int copies, int threads, Progress progress) {
        drawnArea = 0;
        drawnAreaHigh = 0;
        fed = 0;
        layout.forEach(() -> new LayeredSums(grid, layerOf).new Counter(), threads, "adding up areas", progress)
                .forEach(counter -> counter.addTo(this, copies));
    }

    /** Counts drawn areas and sums nothing. */
    private final class Counter implements PolygonSink {
        @Override
        public void accept(PackedPolygon polygon) {
            if (layerOf.apply(polygon.traits) != null) {
                count(polygon);
            }
        }

        void addTo(LayeredSums other, int copies) {
            for (int i = 0; i < copies; i++) {
                other.addDrawn(LayeredSums.this);
            }
        }
    }

    private void count(PackedPolygon polygon) {
        Repeat repeat = polygon.traits.repeat();
        long copies = repeat == null ? 1 : repeat.count();
        fed += copies;
        draw(area(polygon) / grid.tileAreaSquareMetres() * AREA_ONE, copies);
    }

    private void draw(double units, long copies) {
        if (units < LARGE) {
            long each = Math.round(units);
            drawnAreaHigh += Math.multiplyHigh(copies, each);
            addDrawn(copies * each);
        } else { // thousands of tiles, drawn far beyond the grid
            BigInteger all = new BigDecimal(Math.min(units * copies, LARGEST)).toBigInteger();
            drawnAreaHigh += all.shiftRight(64).longValue();
            addDrawn(all.longValue());
        }
    }

    static void feed(PackedPolygon polygon, @Nullable Repeat repeat, CoverageSums into) {
        if (repeat == null) {
            into.add(polygon);
            return;
        }
        for (int row = 0; row < repeat.rows(); row++) {
            for (int column = 0; column < repeat.columns(); column++) {
                into.add(polygon, column * repeat.dxMetres(), row * repeat.dyMetres());
            }
        }
    }

    /** Adds an unsigned number to the lower half of the drawn area. */
    private void addDrawn(long low) {
        drawnArea += low;
        drawnAreaHigh += Long.compareUnsigned(drawnArea, low) < 0 ? 1 : 0;
    }

    private static double area(PackedPolygon polygon) {
        double area = 0;
        for (int ring = 0; ring < polygon.rings; ring++) {
            double twice = Math.abs(polygon.twiceSignedArea(ring));
            area += ring == 0 ? twice : -twice;
        }
        return area / 2;
    }

    /** Returns the sums of a layer, empty ones when it had no polygon yet. */
    public CoverageSums sumsOf(Layer layer) {
        return sums.computeIfAbsent(layer, key -> CoverageSums.ofRows(grid, firstRow, endRow));
    }

    /** Forgets the drawn area of what was fed, of which somebody else takes account. */
    public void leaveDrawn() {
        drawnArea = 0;
        drawnAreaHigh = 0;
        fed = 0;
    }

    /** Counts the drawn area of a polygon and sums nothing. */
    public void countOnly(PackedPolygon polygon) {
        if (layerOf.apply(polygon.traits) != null) {
            count(polygon);
        }
    }

    /**
     * Writes the sums.
     *
     * @throws IllegalStateException when there are textures among the layers
     */
    public void write(DataOutput out) throws IOException {
        out.writeInt(firstRow);
        out.writeInt(endRow);
        out.writeLong(drawnArea);
        out.writeLong(drawnAreaHigh);
        out.writeLong(fed);
        out.writeInt(sums.size());
        for (Map.Entry<Layer, CoverageSums> entry : sums.entrySet()) {
            Layer layer = entry.getKey();
            if (layer.texture() != null) {
                throw new IllegalStateException("layers with textures are not written");
            }
            out.writeUTF(layer.kind().name());
            out.writeDouble(layer.depthMetres());
            out.writeUTF(layer.role() == null ? "" : layer.role().name());
            entry.getValue().write(out);
        }
    }

    /** Adds sums of all or some rows that were written. */
    public void add(DataInput in) throws IOException {
        int from = in.readInt();
        int end = in.readInt();
        long low = in.readLong();
        drawnAreaHigh += in.readLong();
        addDrawn(low);
        fed += in.readLong();
        int layers = in.readInt();
        for (int i = 0; i < layers; i++) {
            Layer.Kind kind = Layer.Kind.valueOf(in.readUTF());
            double depth = in.readDouble();
            String role = in.readUTF();
            sumsOf(new Layer(kind, depth, null, role.isEmpty() ? null : Role.valueOf(role)))
                    .addRows(from, end, in);
        }
    }

    /** Adds the sums of another worker. */
    public void merge(LayeredSums other) {
        other.sums.forEach((layer, theirs) -> sumsOf(layer).merge(theirs));
        addDrawn(other);
    }

    private void addDrawn(LayeredSums other) {
        drawnAreaHigh += other.drawnAreaHigh;
        addDrawn(other.drawnArea);
        fed += other.fed;
    }

    /** Returns the sums by layer, in {@link Layer#ORDER}. */
    public Map<Layer, CoverageSums> layers() {
        return java.util.Collections.unmodifiableMap(sums);
    }

    /** Returns the area of all polygons and copies that were fed, inside the grid or not, in square metres. */
    public double drawnAreaSquareMetres() {
        double units = drawnAreaHigh == 0 && drawnArea >= 0
                ? drawnArea
                : drawnAreaHigh * 0x1p64 + (drawnArea >>> 1) * 2.0 + (drawnArea & 1);
        return units / AREA_ONE * grid.tileAreaSquareMetres();
    }

    /** Returns how much the drawn area may differ from the sum over the tiles although all lies inside, in square metres. */
    public double roundingSquareMetres() {
        // Half a unit for every polygon or copy, and a billionth for its edges, see CoverageSums.
        return (double) fed / AREA_ONE * grid.tileAreaSquareMetres()
                + 1e-9 * Math.max(grid.tileAreaSquareMetres(), drawnAreaSquareMetres());
    }
}
