package org.evenstamp.engine.sweep;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * What the points of a sweep found, in a directory that outlives the run.
 *
 * <p>{@code journal.jsonl} has a line for every point in the order in which they ended, and {@code fields.dat} the kept fields,
 * little-endian doubles, NaN where a tile has no value. A point's fields are written before its line, so that a line that is
 * whole speaks of a point that is whole; what a kill has cut off is dropped at the next opening, and that point runs again.
 * One process at a time may have a store open. Safe for several threads.
 */
public final class SweepStore implements AutoCloseable {
    static final String JOURNAL = "journal.jsonl";
    static final String FIELDS = "fields.dat";
    private static final String LOCK = "lock";
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private final Path directory;
    private final RandomAccessFile lockFile;
    private final RandomAccessFile journal;
    private final RandomAccessFile fields;
    private final SortedMap<Integer, SweepPoint> points = new TreeMap<>();
    private final Map<Integer, Long> offsets = new LinkedHashMap<>();
    private @Nullable TileGrid grid;

    private SweepStore(Path directory, RandomAccessFile lockFile, RandomAccessFile journal, RandomAccessFile fields) {
        this.directory = directory;
        this.lockFile = lockFile;
        this.journal = journal;
        this.fields = fields;
    }

    /**
     * Opens a store, or begins one.
     *
     * @param identity what the points are of; a store of something else is not touched
     * @throws InputException when the directory cannot be used, belongs to another sweep, or is in use
     */
    public static SweepStore open(Path directory, String identity) {
        try {
            Files.createDirectories(directory);
            RandomAccessFile lockFile =
                    new RandomAccessFile(directory.resolve(LOCK).toFile(), "rw");
            if (!lock(lockFile)) {
                lockFile.close();
                throw new InputException(
                        "sweep.in-use",
                        directory.toString(),
                        "another process is running this sweep",
                        "wait for it, or choose another directory with --out");
            }
            SweepStore store = new SweepStore(
                    directory,
                    lockFile,
                    new RandomAccessFile(directory.resolve(JOURNAL).toFile(), "rw"),
                    new RandomAccessFile(directory.resolve(FIELDS).toFile(), "rw"));
            try {
                store.recover(identity);
            } catch (IOException | RuntimeException e) {
                store.close();
                throw e;
            }
            return store;
        } catch (IOException e) {
            throw new InputException(
                    "sweep.unusable", directory.toString(), "points cannot be kept here: " + e.getMessage(), "");
        }
    }

    private static boolean lock(RandomAccessFile file) throws IOException {
        try {
            FileLock lock = file.getChannel().tryLock();
            return lock != null;
        } catch (OverlappingFileLockException e) {
            return false;
        }
    }

    /** Reads the journal as far as it is whole and cuts off the rest. */
    private void recover(String identity) throws IOException {
        byte[] bytes = new byte[Math.toIntExact(journal.length())];
        journal.readFully(bytes);
        int start = 0;
        boolean first = true;
        for (int i = 0; i < bytes.length; i++) {
            if (bytes[i] == '\n') {
                JsonNode line = parsed(new String(bytes, start, i - start, StandardCharsets.UTF_8));
                if (line == null) {
                    break;
                }
                if (first) {
                    requireIdentity(identity, line.path("sweep").asText());
                    first = false;
                } else if (!take(line)) {
                    break;
                }
                start = i + 1;
            }
        }
        journal.setLength(start);
        journal.seek(start);
        if (first) {
            append(MAPPER.createObjectNode().put("sweep", identity));
        }
        fields.seek(fields.length());
    }

    private void requireIdentity(String wanted, String found) {
        if (!wanted.equals(found)) {
            throw new InputException(
                    "sweep.other",
                    directory.toString(),
                    "the points kept here are of another job, other files or another version",
                    "choose another directory with --out, or remove this one");
        }
    }

    private static @Nullable JsonNode parsed(String line) {
        try {
            return MAPPER.readTree(line);
        } catch (IOException e) {
            return null;
        }
    }

    private boolean take(JsonNode line) throws IOException {
        long end = line.path("offset").asLong(0) + 8L * line.path("values").asLong(0);
        if (!line.has("point") || end > fields.length()) {
            return false;
        }
        SweepPoint point = PointText.point(line);
        int index = point.index();
        points.put(index, point);
        if (line.has("offset")) {
            offsets.put(index, line.get("offset").asLong());
            grid = PointText.grid(line);
        }
        return true;
    }

    /**
     * Keeps a point.
     *
     * @param kept its fields to keep, all of one size; none when it failed
     * @throws UncheckedIOException when they cannot be written
     */
    public synchronized void add(SweepPoint point, List<Field> kept) {
        ObjectNode line = PointText.of(point, kept);
        try {
            if (!kept.isEmpty()) {
                long offset = fields.length();
                fields.seek(offset);
                for (Field field : kept) {
                    fields.write(PointText.bytes(field));
                }
                line.put("offset", offset);
                offsets.put(point.index(), offset);
                grid = kept.get(0).grid();
            }
            append(line);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        points.put(point.index(), point);
    }

    private void append(ObjectNode line) throws IOException {
        journal.write((MAPPER.writeValueAsString(line) + "\n").getBytes(StandardCharsets.UTF_8));
    }

    /** Returns whether a point is kept. */
    public synchronized boolean has(int index) {
        return points.containsKey(index);
    }

    /** Returns the points that are kept, by their number. */
    public synchronized List<SweepPoint> points() {
        return List.copyOf(points.values());
    }

    /** Returns the tiles of the kept fields, which all points share; nothing while none is kept. */
    public synchronized Optional<TileGrid> grid() {
        return Optional.ofNullable(grid);
    }

    /** Returns the numbers of the points whose fields are kept, in order. */
    synchronized List<Integer> withFields() {
        return offsets.keySet().stream().sorted().toList();
    }

    /**
     * Reads part of a kept field.
     *
     * @param field position of the field in what was kept
     * @param tiles tiles of a field
     * @param from first tile wanted
     * @param into takes the values, NaN where a tile has none
     */
    synchronized void read(int index, int field, int tiles, int from, double[] into) {
        ByteBuffer bytes = ByteBuffer.allocate(8 * into.length).order(ByteOrder.LITTLE_ENDIAN);
        try {
            fields.seek(Objects.requireNonNull(offsets.get(index)) + 8L * ((long) field * tiles + from));
            fields.readFully(bytes.array());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        bytes.asDoubleBuffer().get(into);
    }

    @Override
    public void close() {
        try {
            journal.close();
            fields.close();
            lockFile.close(); // gives the lock back
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
