package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Predicate;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * What a first pass through a layout learns: how far it reaches, how much there is, the bounding box of every polygon,
 * and the polygons themselves if they fit into memory.
 *
 * <p>A polygon's number is its place in the order of chunks and ordinals: the same in every pass.
 */
public final class Survey {
    /** The system property that raises {@link #MOST_COPIES}. */
    private static final String COPIES_PROPERTY = "evenstamp.copies";
    /** Polygons that may stand, copies of arrays included: about half a minute for each pass on one thread. */
    private static final long MOST_COPIES = 1_000_000_000;

    /** A polygon that stands for an array of copies. */
    record Array(int polygon, Repeat repeat) {}

    private final int[] chunkStart;
    private final float[] boxes;
    private final List<Array> arrays;
    private final Totals totals;
    private final @Nullable List<PolygonStore> stores;
    private final List<PolygonStore> drawnRegions;

    /**
     * Sums over the layout, arrays of copies counted as often as they stand.
     *
     * @param polygons polygons drawn
     * @param copies polygons that stand, copies of arrays included
     * @param vertices vertices drawn
     * @param edgeMetres edge length of all that stands but textures, rounded per polygon to a nanometre
     * @param minX left end of everything
     * @param minY lower end
     * @param maxX right end
     * @param maxY upper end
     */
    public record Totals(
            long polygons,
            long copies,
            long vertices,
            double edgeMetres,
            double minX,
            double minY,
            double maxX,
            double maxY) {
        /** Returns the sums over two parts of a layout. */
        public Totals plus(Totals other) {
            double nanometres = Math.rint(edgeMetres * 1e9) + Math.rint(other.edgeMetres * 1e9);
            return new Totals(
                    polygons + other.polygons,
                    saturated(copies + other.copies),
                    vertices + other.vertices,
                    nanometres * 1e-9,
                    Math.min(minX, other.minX),
                    Math.min(minY, other.minY),
                    Math.max(maxX, other.maxX),
                    Math.max(maxY, other.maxY));
        }
    }

    /** Sums of what is not negative stop here, in whatever order they are made. */
    private static final long MOST = Long.MAX_VALUE / 2;

    private static long saturated(long sum) {
        return sum < 0 || sum > MOST ? MOST : sum;
    }

    private Survey(
            int[] chunkStart,
            float[] boxes,
            List<Array> arrays,
            Totals totals,
            @Nullable List<PolygonStore> stores,
            List<PolygonStore> drawnRegions) {
        this.chunkStart = chunkStart;
        this.boxes = boxes;
        this.arrays = arrays;
        this.totals = totals;
        this.stores = stores;
        this.drawnRegions = List.copyOf(drawnRegions);
    }

    /**
     * Goes through the layout once.
     *
     * @param partOfRelief which polygons, by their traits, have a part in the relief; the others get no box
     * @param storeBytes memory for keeping the polygons; beyond it none is kept
     */
    public static Survey of(
            PolygonSource source, Predicate<Traits> partOfRelief, long storeBytes, int threads, Progress progress) {
        AtomicLong memory = new AtomicLong(storeBytes);
        List<Sink> sinks =
                source.forEach(() -> new Sink(partOfRelief, memory), threads, "reading the layout", progress);
        List<Chunk> chunks = new ArrayList<>();
        sinks.forEach(sink -> chunks.addAll(sink.chunks));
        chunks.sort(Comparator.comparingInt(chunk -> chunk.number));
        int last = chunks.isEmpty() ? -1 : chunks.get(chunks.size() - 1).number;
        int[] start = new int[last + 2];
        for (Chunk chunk : chunks) {
            start[chunk.number + 1] = chunk.size;
        }
        for (int i = 0; i <= last; i++) {
            start[i + 1] = Math.addExact(start[i], start[i + 1]);
        }
        float[] boxes = new float[Math.multiplyExact(4, start[last + 1])];
        List<Array> arrays = new ArrayList<>();
        for (Chunk chunk : chunks) {
            System.arraycopy(chunk.boxes, 0, boxes, 4 * start[chunk.number], 4 * chunk.size);
            for (Array array : chunk.arrays) {
                arrays.add(new Array(start[chunk.number] + array.polygon, array.repeat));
            }
        }
        List<PolygonStore> stores = null;
        if (memory.get() >= 0) {
            stores = new ArrayList<>();
            for (Sink sink : sinks) {
                if (sink.store != null) {
                    stores.add(sink.store);
                }
            }
        }
        Totals totals = totals(sinks);
        refuseTooManyCopies(totals, sinks);
        return new Survey(
                start,
                boxes,
                arrays,
                totals,
                stores,
                sinks.stream().map(sink -> sink.regions).toList());
    }

    /** Returns a survey that knows the sums alone, which others have made. */
    public static Survey ofTotals(Totals totals) {
        return new Survey(new int[] {0}, new float[0], List.of(), totals, null, List.of());
    }

    private static void refuseTooManyCopies(Totals totals, List<Sink> sinks) {
        long most = Long.getLong(COPIES_PROPERTY, MOST_COPIES);
        if (totals.copies() <= most) {
            return;
        }
        long largest = sinks.stream().mapToLong(sink -> sink.largestArray).max().orElse(0);
        long line = sinks.stream()
                .filter(sink -> sink.largestArray == largest)
                .mapToLong(sink -> sink.largestArrayLine)
                .min()
                .orElse(0);
        throw new InputException(
                "layout.too-many-copies",
                line == 0 ? "layout" : "line " + line,
                String.format(
                        Locale.ROOT,
                        "the arrays stand for %s%.4g copies, the largest alone for %.4g; at most %.4g are gone through",
                        totals.copies() == MOST ? "more than " : "",
                        (double) totals.copies(),
                        (double) largest,
                        (double) most),
                "draw a texture instead of copies too fine to see, or raise the number with EVENSTAMP_JAVA_OPTS=-D"
                        + COPIES_PROPERTY + "=10000000000");
    }

    private static Totals totals(List<Sink> sinks) {
        long polygons = 0;
        long copies = 0;
        long vertices = 0;
        long edge = 0;
        double minX = Double.POSITIVE_INFINITY;
        double minY = Double.POSITIVE_INFINITY;
        double maxX = Double.NEGATIVE_INFINITY;
        double maxY = Double.NEGATIVE_INFINITY;
        for (Sink sink : sinks) {
            polygons += sink.polygons;
            copies = saturated(copies + sink.copies);
            vertices += sink.vertices;
            edge = saturated(edge + sink.edgeNanometres);
            minX = Math.min(minX, sink.minX);
            minY = Math.min(minY, sink.minY);
            maxX = Math.max(maxX, sink.maxX);
            maxY = Math.max(maxY, sink.maxY);
        }
        return new Totals(polygons, copies, vertices, edge * 1e-9, minX, minY, maxX, maxY);
    }

    /** Returns the sums. */
    public Totals totals() {
        return totals;
    }

    /** Returns the polygons of the role region; how they are spread over the stores depends on chance. */
    public List<PolygonStore> drawnRegions() {
        return drawnRegions;
    }

    /** Returns the number of a polygon, from 0. */
    public int number(int chunk, int ordinal) {
        return chunkStart[chunk] + ordinal;
    }

    /** Returns how many polygons were seen. */
    public int size() {
        return boxes.length / 4;
    }

    /**
     * Returns the bounding boxes, left, lower, right and upper end of each polygon in metres, rounded outward; of an array
     * the box of its first copy. Right is below left where a polygon has no part in the relief. Not to be written to.
     */
    float[] boxes() {
        return boxes;
    }

    /** Returns left, lower, right and upper end of what has a part in the relief, rounded outward; null when nothing has. */
    public double @Nullable [] reliefBox() {
        double[] all = {
            Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
        };
        for (int i = 0; i < boxes.length; i += 4) {
            if (boxes[i + 2] >= boxes[i]) {
                widen(all, boxes[i], boxes[i + 1], boxes[i + 2], boxes[i + 3]);
            }
        }
        for (Array array : arrays) {
            int at = 4 * array.polygon;
            double[] box = {boxes[at], boxes[at + 1], boxes[at + 2], boxes[at + 3]};
            Repeat.stretch(box, array.repeat);
            widen(all, box[0], box[1], box[2], box[3]);
        }
        return all[2] >= all[0] ? all : null;
    }

    private static void widen(double[] all, double minX, double minY, double maxX, double maxY) {
        all[0] = Math.min(all[0], minX);
        all[1] = Math.min(all[1], minY);
        all[2] = Math.max(all[2], maxX);
        all[3] = Math.max(all[3], maxY);
    }

    /** Returns the polygons that stand for arrays, by ascending number. */
    List<Array> arrays() {
        return arrays;
    }

    /** Returns whether all polygons are in memory, so that further passes do not read them again. */
    public boolean isHeld() {
        return stores != null;
    }

    /** Returns all polygons, in no order; null where they do not fit into memory. */
    @Nullable
    List<PolygonStore> stores() {
        return stores;
    }

    /** Returns the layout for further passes: from memory if it fits there, else {@code original} again. */
    public PolygonSource source(PolygonSource original) {
        return stores == null ? original : PolygonStore.all(stores);
    }

    private static final class Chunk {
        private final int number;
        private float[] boxes = new float[256];
        private int size;
        private final List<Array> arrays = new ArrayList<>();

        Chunk(int number) {
            this.number = number;
        }
    }

    /** One worker's part of the pass. All polygons of a chunk come to one sink, in order. */
    private static final class Sink implements PolygonSink {
        private final Predicate<Traits> partOfRelief;
        private final AtomicLong memory;
        private final List<Chunk> chunks = new ArrayList<>();
        private final double[] box = new double[4];
        private final PolygonStore regions = new PolygonStore();
        private @Nullable PolygonStore store = new PolygonStore();
        private long stored;
        private long polygons;
        private long copies;
        private long vertices;
        private long edgeNanometres;
        private long largestArray;
        private long largestArrayLine;
        private double minX = Double.POSITIVE_INFINITY;
        private double minY = Double.POSITIVE_INFINITY;
        private double maxX = Double.NEGATIVE_INFINITY;
        private double maxY = Double.NEGATIVE_INFINITY;

        Sink(Predicate<Traits> partOfRelief, AtomicLong memory) {
            this.partOfRelief = partOfRelief;
            this.memory = memory;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            Chunk chunk = chunks.isEmpty() ? null : chunks.get(chunks.size() - 1);
            if (chunk == null || chunk.number != polygon.chunk) {
                chunk = new Chunk(polygon.chunk);
                chunks.add(chunk);
            }
            if (chunk.size != polygon.ordinal) {
                throw new IllegalStateException("polygon " + polygon.ordinal + " of chunk " + polygon.chunk
                        + " came when " + chunk.size + " was due");
            }
            polygons++;
            vertices += polygon.vertices();
            Repeat repeat = polygon.traits.repeat();
            copies = saturated(copies + (repeat == null ? 1 : repeat.count()));
            if (repeat != null && repeat.count() > largestArray) {
                largestArray = repeat.count();
                largestArrayLine = polygon.line;
            }
            box(polygon, chunk, repeat);
            keep(polygon);
        }

        private void box(PackedPolygon polygon, Chunk chunk, @Nullable Repeat repeat) {
            polygon.box(box);
            double x0 = box[0];
            double y0 = box[1];
            double x1 = box[2];
            double y1 = box[3];
            boolean takesPart = partOfRelief.test(polygon.traits);
            if (4 * chunk.size + 4 > chunk.boxes.length) {
                chunk.boxes = Arrays.copyOf(chunk.boxes, 2 * chunk.boxes.length);
            }
            int at = 4 * chunk.size;
            chunk.boxes[at] = takesPart ? down(x0) : 1;
            chunk.boxes[at + 1] = takesPart ? down(y0) : 1;
            chunk.boxes[at + 2] = takesPart ? up(x1) : -1;
            chunk.boxes[at + 3] = takesPart ? up(y1) : -1;
            if (repeat != null) {
                if (takesPart) {
                    chunk.arrays.add(new Array(chunk.size, repeat));
                }
                double spanX = (repeat.columns() - 1) * repeat.dxMetres();
                double spanY = (repeat.rows() - 1) * repeat.dyMetres();
                x0 += Math.min(0, spanX);
                x1 += Math.max(0, spanX);
                y0 += Math.min(0, spanY);
                y1 += Math.max(0, spanY);
            }
            if (takesPart && polygon.traits.texture() == null) {
                long each = Math.round(perimeter(polygon) * 1e9);
                long count = repeat == null ? 1 : repeat.count();
                edgeNanometres = saturated(
                        edgeNanometres + (Math.multiplyHigh(each, count) == 0 ? saturated(each * count) : MOST));
            }
            chunk.size++;
            if (polygon.traits.role() == Role.REGION) {
                regions.add(polygon);
                return; // it does not make the stamp larger
            }
            minX = Math.min(minX, x0);
            minY = Math.min(minY, y0);
            maxX = Math.max(maxX, x1);
            maxY = Math.max(maxY, y1);
        }

        private static double perimeter(PackedPolygon polygon) {
            double sum = 0;
            for (int ring = 0; ring < polygon.rings; ring++) {
                int end = polygon.ringEnd[ring];
                int previous = end - 1;
                for (int i = polygon.ringStart(ring); i < end; i++) {
                    double dx = polygon.xy[2 * i] - polygon.xy[2 * previous];
                    double dy = polygon.xy[2 * i + 1] - polygon.xy[2 * previous + 1];
                    sum += Math.sqrt(dx * dx + dy * dy);
                    previous = i;
                }
            }
            return sum;
        }

        private void keep(PackedPolygon polygon) {
            PolygonStore mine = store;
            if (mine == null) {
                return;
            }
            mine.add(polygon);
            long bytes = mine.bytes();
            if (bytes != stored) {
                memory.addAndGet(stored - bytes);
                stored = bytes;
            }
            if (memory.get() < 0) {
                store = null;
            }
        }

        private static float down(double value) {
            float f = (float) value;
            return f > value ? Math.nextDown(f) : f;
        }

        private static float up(double value) {
            float f = (float) value;
            return f < value ? Math.nextUp(f) : f;
        }
    }
}
