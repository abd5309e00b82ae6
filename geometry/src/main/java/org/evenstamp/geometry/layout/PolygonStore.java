package org.evenstamp.geometry.layout;

import java.io.DataInputStream;
import java.io.DataOutput;
import java.io.EOFException;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/**
 * Polygons in memory, packed: 16 bytes a vertex and a few a polygon. Also a source, so that what fits into memory is read
 * once only. Filled by one thread; read by any number.
 *
 * <p>A polygon's number here is the order in which it was added.
 */
public final class PolygonStore implements PolygonSource {
    private static final int PER_TASK = 4096;
    private static final int FIRST_BLOCK = 1 << 10;
    private static final int LARGEST_BLOCK = 1 << 16;

    /** Coordinates in blocks, so that a store that grows is never copied; the vertices of a polygon are in one block. */
    private final List<double[]> blocks = new ArrayList<>();
    /** Numbers of all blocks together, and of those of the last one that are in use. */
    private long room;

    private int used;

    private int[] ringEnd = new int[64];
    /** For every polygon: where its first ring is in ringEnd; one more at the end. */
    private int[] firstRing = new int[64];
    /** For every polygon: its block, and where in it its first vertex is. */
    private int[] place = new int[128];
    /** For every polygon: chunk, ordinal. */
    private int[] identity = new int[128];

    private long[] line = new long[64];
    private @Nullable Traits[] traits = new @Nullable Traits[64];
    private int polygons;

    /** Adds a copy of the polygon and returns its number. */
    public int add(PackedPolygon polygon) {
        int numbers = 2 * polygon.vertices();
        if (blocks.isEmpty() || blocks.get(blocks.size() - 1).length - used < numbers) {
            long usual = Math.min(LARGEST_BLOCK, Math.max(FIRST_BLOCK, room));
            blocks.add(new double[(int) Math.max(usual, numbers)]);
            room += blocks.get(blocks.size() - 1).length;
            used = 0;
        }
        System.arraycopy(polygon.xy, 0, blocks.get(blocks.size() - 1), used, numbers);
        if (polygons + 1 == firstRing.length) {
            int size = grown(firstRing.length, polygons + 2L);
            firstRing = Arrays.copyOf(firstRing, size);
            identity = Arrays.copyOf(identity, 2 * size);
            place = Arrays.copyOf(place, 2 * size);
            line = Arrays.copyOf(line, size);
            traits = Arrays.copyOf(traits, size);
        }
        int ring = firstRing[polygons];
        if (ring + polygon.rings > ringEnd.length) {
            ringEnd = Arrays.copyOf(ringEnd, grown(ringEnd.length, ring + (long) polygon.rings));
        }
        System.arraycopy(polygon.ringEnd, 0, ringEnd, ring, polygon.rings);
        place[2 * polygons] = blocks.size() - 1;
        place[2 * polygons + 1] = used;
        identity[2 * polygons] = polygon.chunk;
        identity[2 * polygons + 1] = polygon.ordinal;
        line[polygons] = polygon.line;
        traits[polygons] = polygon.traits;
        used += numbers;
        firstRing[polygons + 1] = ring + polygon.rings;
        return polygons++;
    }

    private static int grown(int length, long needed) {
        long wanted = Math.max(needed, length + (length >> 1) + 16L);
        if (needed > Integer.MAX_VALUE - 16) {
            throw new IllegalStateException("a store of polygons cannot hold more than 1e9 polygons or rings");
        }
        return (int) Math.min(wanted, Integer.MAX_VALUE - 16);
    }

    /** Returns the number of polygons. */
    public int size() {
        return polygons;
    }

    /** Returns the memory in use, in bytes. */
    public long bytes() {
        return 8 * room + 4L * ringEnd.length + 36L * firstRing.length;
    }

    /** Copies a polygon out. */
    public void get(int number, PackedPolygon into) {
        int ring = firstRing[number];
        int rings = firstRing[number + 1] - ring;
        int count = ringEnd[ring + rings - 1];
        into.clear();
        into.ensureVertices(count);
        System.arraycopy(blocks.get(place[2 * number]), place[2 * number + 1], into.xy, 0, 2 * count);
        for (int i = 0; i < rings; i++) {
            into.endRing(ringEnd[ring + i]);
        }
        into.traits = traitsOf(number);
        into.chunk = identity[2 * number];
        into.ordinal = identity[2 * number + 1];
        into.line = line[number];
    }

    /** Returns the number of the piece of its source that a polygon came from. */
    public int chunkOf(int number) {
        return identity[2 * number];
    }

    /** Returns the number of a polygon within its piece of the source. */
    public int ordinalOf(int number) {
        return identity[2 * number + 1];
    }

    /** Returns the traits of a polygon. */
    public Traits traitsOf(int number) {
        Traits its = traits[number];
        return its == null ? Traits.NONE : its;
    }

    /**
     * Writes a polygon that is no array, has no texture and is no region.
     *
     * @throws IllegalArgumentException for another one
     */
    public static void write(PackedPolygon polygon, DataOutput out) throws IOException {
        Traits its = polygon.traits;
        if (its.repeat() != null || its.texture() != null || its.region() != null) {
            throw new IllegalArgumentException("polygons with " + its + " are not written");
        }
        out.writeLong(polygon.line);
        out.writeDouble(its.depthMetres() == null ? Double.NaN : its.depthMetres());
        out.writeUTF(its.role() == null ? "" : its.role().name());
        out.writeInt(polygon.rings);
        for (int ring = 0; ring < polygon.rings; ring++) {
            out.writeInt(polygon.ringEnd[ring]);
        }
        int end = 2 * polygon.vertices();
        for (int i = 0; i < end; i++) {
            out.writeDouble(polygon.xy[i]);
        }
    }

    /** Adds polygons that were written, all of one chunk and numbered as they come, until there are no more. */
    public void addWritten(DataInputStream in) throws IOException {
        PackedPolygon polygon = new PackedPolygon();
        Traits last = Traits.NONE;
        while (true) {
            long its;
            try {
                its = in.readLong();
            } catch (EOFException e) {
                return;
            }
            double depth = in.readDouble();
            String role = in.readUTF();
            Traits now = new Traits(
                    Double.isNaN(depth) ? null : depth, role.isEmpty() ? null : Role.valueOf(role), null, null);
            last = now.equals(last) ? last : now;
            polygon.clear();
            int rings = in.readInt();
            int[] ends = new int[rings];
            for (int ring = 0; ring < rings; ring++) {
                ends[ring] = in.readInt();
            }
            polygon.ensureVertices(ends[rings - 1]);
            for (int i = 0; i < 2 * ends[rings - 1]; i++) {
                polygon.xy[i] = in.readDouble();
            }
            for (int end : ends) {
                polygon.endRing(end);
            }
            polygon.line = its;
            polygon.traits = last;
            polygon.chunk = 0;
            polygon.ordinal = polygons;
            add(polygon);
        }
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        return all(List.of(this)).forEach(sink, threads, stage, progress);
    }

    /** Several stores as one source. */
    public static PolygonSource all(List<PolygonStore> stores) {
        return new Several(List.copyOf(stores));
    }

    /** Shares out stretches of the stores among the workers. */
    private record Several(List<PolygonStore> stores) implements PolygonSource {
        @Override
        public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
            List<int[]> tasks = new ArrayList<>();
            long total = 0;
            for (int s = 0; s < stores.size(); s++) {
                int size = stores.get(s).size();
                total += size;
                for (int from = 0; from < size; from += PER_TASK) {
                    tasks.add(new int[] {s, from, Math.min(size, from + PER_TASK)});
                }
            }
            try (Stage counter = progress.stage(stage, total, "polygons")) {
                AtomicInteger next = new AtomicInteger();
                return Workers.run(threads, progress, () -> {
                    S mine = sink.get();
                    PackedPolygon polygon = new PackedPolygon();
                    int task;
                    while ((task = next.getAndIncrement()) < tasks.size()) {
                        int[] stretch = tasks.get(task);
                        PolygonStore store = stores.get(stretch[0]);
                        for (int number = stretch[1]; number < stretch[2]; number++) {
                            store.get(number, polygon);
                            mine.accept(polygon);
                        }
                        counter.advance(stretch[2] - stretch[1]);
                    }
                    return mine;
                });
            }
        }
    }
}
