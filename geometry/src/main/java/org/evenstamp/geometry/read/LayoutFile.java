package org.evenstamp.geometry.read;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ConcurrentMap;
import java.util.function.Supplier;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/**
 * A layout in a file, gone through as often as needed without ever being held in memory: a worker holds one chunk of about a
 * megabyte, more only when a single feature is longer.
 *
 * <p>Numbers are read to the nearest double, checked in the file's own unit and then multiplied by the unit's length.
 */
public final class LayoutFile implements PolygonSource {
    private static final int CHUNK = 1 << 20;
    private static final int LONGEST_FEATURE = 1 << 30;

    private final Path file;
    private final ReadOptions options;
    private final Compression compression;
    private final DetectedFormat opening;
    private final double metresPerUnit;
    private final long size;
    private final FileTime modified;
    private final int chunkBytes;
    private final int limit;
    private final ConcurrentMap<Traits, Traits> traits = PropertyReader.store();
    private final @Nullable Part part;
    private volatile @Nullable ReadReport report;
    /** Bytes from the closing bracket of the list of features to the end, unpacked; negative before the first pass. */
    private volatile long tailBytes = -1;

    /** Some bytes of the file, from a line on. */
    private record Part(long from, long to, long line) {}

    private LayoutFile(LayoutFile whole, Part part) {
        this.file = whole.file;
        this.options = whole.options;
        this.compression = whole.compression;
        this.opening = whole.opening;
        this.chunkBytes = whole.chunkBytes;
        this.limit = whole.limit;
        this.size = whole.size;
        this.modified = whole.modified;
        this.metresPerUnit = whole.metresPerUnit;
        this.part = part;
    }

    private LayoutFile(
            Path file, ReadOptions options, Compression compression, DetectedFormat opening, int chunkBytes, int limit)
            throws IOException {
        this.file = file;
        this.options = options;
        this.compression = compression;
        this.opening = opening;
        this.chunkBytes = chunkBytes;
        this.limit = limit;
        this.size = Files.size(file);
        this.modified = Files.getLastModifiedTime(file);
        String named = opening.units();
        Double given = options.metresPerUnit();
        boolean later = named == null && given == null && isFeatureCollection();
        this.metresPerUnit = CoordinateUnit.metres(file, given, later ? unitsBehindFeatures() : named);
        this.part = null;
    }

    /**
     * Opens a layout: finds out how it is packed and written from its first bytes, and its unit.
     *
     * @throws InputException when it is missing, not a file, empty, binary, damaged, in no known format, or of unknown unit
     */
    public static LayoutFile open(Path file, ReadOptions options) {
        long share = Runtime.getRuntime().maxMemory() / 8;
        return open(file, options, CHUNK, (int) Math.min(LONGEST_FEATURE, Math.max(share, 16L << 20)));
    }

    /** Opens a layout to be cut into chunks of about so many bytes, never more than {@code limit}. */
    static LayoutFile open(Path file, ReadOptions options, int chunkBytes, int limit) {
        String place = file.toString();
        if (!Files.exists(file)) {
            throw new InputException("layout.missing", place, "there is no such file", "check the path");
        }
        if (Files.isDirectory(file)) {
            throw new InputException(
                    "layout.directory", place, "this is a directory, not a file", "name the layout file in it");
        }
        if (!Files.isRegularFile(file)) {
            throw new InputException(
                    "layout.not-a-file",
                    place,
                    "this is a pipe or device, and a layout is read more than once",
                    "save the layout to a file first");
        }
        try {
            byte[] magic = new byte[4];
            Compression compression;
            try (FileBytes in = FileBytes.open(file, Compression.NONE)) {
                compression = Compression.of(magic, in.read(magic, 0, magic.length));
            }
            DetectedFormat opening;
            try (FileBytes in = FileBytes.open(file, compression)) {
                opening = DetectedFormat.look(file, in, options.format(), limit);
            }
            return new LayoutFile(file, options, compression, opening, chunkBytes, limit);
        } catch (IOException e) {
            throw new InputException("layout.unreadable", place, "cannot be read: " + e.getMessage(), "check the file");
        }
    }

    private @Nullable String unitsBehindFeatures() {
        try (FileBytes in = FileBytes.open(file, compression)) {
            in.skip(opening.offset());
            String[] found = new String[1];
            ChunkCutter cutter =
                    new ChunkCutter.Elements(in, opening.line(), opening.column(), chunkBytes, limit, () -> {}) {
                        @Override
                        void tail(Chunk rest) {
                            found[0] = new GeoJsonFrame(rest).tail(rest);
                        }
                    };
            Chunk chunk = new Chunk(file.toString());
            while (cutter.next(chunk)) {
                // only what stands behind the features is of interest here
            }
            return found[0];
        }
    }

    /** Returns how messages name the file. */
    String place() {
        return file.toString();
    }

    /** Returns the format. */
    public LayoutFormat format() {
        return opening.format();
    }

    /** Returns the length of one unit of the file's coordinates in metres. */
    public double metresPerUnit() {
        return metresPerUnit;
    }

    /**
     * Returns what the last complete pass met; all complete passes meet the same.
     *
     * @throws IllegalStateException before the first complete pass
     */
    public ReadReport report() {
        ReadReport last = report;
        if (last == null) {
            throw new IllegalStateException("the report comes with the first complete pass");
        }
        return last;
    }

    /**
     * {@inheritDoc}
     *
     * <p>The calling thread waits for the workers. An interrupt of it, or the wish to stop, ends the reading within a second with a
     * {@link CancelledException}; an interrupted thread stays interrupted. When several chunks fail, the failure of the first one
     * in the file is thrown.
     */
    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stageName, Progress progress) {
        if (threads < 1) {
            throw new IllegalArgumentException("reading needs a thread, was given " + threads);
        }
        refuseChanged();
        List<S> sinks = new ArrayList<>();
        Part only = part;
        try (Stage stage = progress.stage(stageName, only == null ? size : only.to - only.from, "bytes");
                FileBytes in = only == null
                        ? FileBytes.open(file, compression)
                        : FileBytes.openRange(file, only.from, only.to)) {
            if (only == null) {
                in.skip(opening.offset());
            }
            ChunkCutter cutter = cutter(in, progress::checkCancelled);
            List<Worker> workers = new ArrayList<>();
            for (int i = 0; i < threads; i++) {
                S own = sink.get();
                sinks.add(own);
                workers.add(new Worker(cutter, stage, own));
            }
            run(workers, cutter, progress);
            refuseChanged();
            report = FeatureCollector.report(
                    workers.stream().map(worker -> worker.intake).toList(),
                    opening.format(),
                    compression,
                    size,
                    cutter.bytesCut(),
                    cutter.lines(),
                    metresPerUnit);
        }
        return sinks;
    }

    /**
     * Returns where the file may be cut so that each part can be read alone.
     *
     * @param partBytes about how long a part is
     * @return the bytes at which parts begin, and the end of the file
     * @throws InputException when a record can only be found by reading all that stands before it
     */
    public List<Long> cuts(long partBytes) {
        boolean lines = opening.format() != LayoutFormat.GEOJSON && opening.format() != LayoutFormat.CSV_WKT;
        if (compression != Compression.NONE || !lines) {
            throw new InputException(
                    "layout.not-cut",
                    file.toString(),
                    compression != Compression.NONE
                            ? "a compressed file cannot be read from its middle"
                            : "a file of this format cannot be read from its middle",
                    "write it as lines: WKT, WKB or a GeoJSON feature on each line, not compressed");
        }
        return LineCuts.of(file, opening.offset(), size, partBytes);
    }

    /**
     * Returns a part of the file as a layout of its own.
     *
     * @param from one of the {@link #cuts}
     * @param to the next one
     * @param line the line in the file that is the part's first, from 1; what stands before the first feature does not count
     */
    public LayoutFile part(long from, long to, long line) {
        return new LayoutFile(this, new Part(from, to, line));
    }

    /** Takes the report of a pass that others have made. */
    public void readElsewhere(ReadReport theirs) {
        report = theirs;
    }

    /** Opens the file as it stands, unpacked. */
    public InputStream stream() {
        refuseChanged();
        return FileBytes.open(file, compression).stream();
    }

    /** Returns whether the file is a GeoJSON document with a list of features, to which {@link #copy} can add some. */
    public boolean isFeatureCollection() {
        return opening.arrangement() == GeoJsonParser.Arrangement.ARRAY;
    }

    /** Writes features behind those of a file. */
    @FunctionalInterface
    public interface Addition {
        /**
         * Writes what is added.
         *
         * @param first whether the list was empty, so that no comma has to stand in front
         */
        void write(boolean first) throws IOException;
    }

    /**
     * Copies the file as it stands, unpacked and byte for byte, and has something added behind its last feature.
     *
     * @throws IllegalStateException when it is no {@linkplain #isFeatureCollection collection} or before the first complete pass
     * @throws IOException when it cannot be written
     */
    public void copy(OutputStream out, Addition addition, Progress progress) throws IOException {
        long tail = tailBytes;
        if (!isFeatureCollection() || tail < 0) {
            throw new IllegalStateException("nothing can be added to the features before they have been read");
        }
        refuseChanged();
        byte[] held = new byte[Math.toIntExact(tail) + CHUNK];
        int count = 0;
        int last = 0;
        try (Stage stage = progress.stage("copying the layout", size, "bytes");
                FileBytes in = FileBytes.open(file, compression)) {
            long position = 0;
            int filled;
            while ((filled = in.read(held, count, held.length)) > count) {
                progress.checkCancelled();
                int sure = Math.max(0, filled - (int) tail);
                out.write(held, 0, sure);
                last = lastMark(held, sure, last);
                System.arraycopy(held, sure, held, 0, filled - sure);
                count = filled - sure;
                stage.advance(in.position() - position);
                position = in.position();
            }
        }
        refuseChanged();
        addition.write(last == '[');
        out.write(held, 0, count);
    }

    /** Last of the bytes that is no white space, or what was there before. */
    private static int lastMark(byte[] bytes, int end, int before) {
        for (int i = end - 1; i >= 0; i--) {
            if (bytes[i] != ' ' && bytes[i] != '\n' && bytes[i] != '\r' && bytes[i] != '\t') {
                return bytes[i];
            }
        }
        return before;
    }

    private void refuseChanged() {
        boolean same;
        try {
            same = Files.size(file) == size && Files.getLastModifiedTime(file).equals(modified);
        } catch (IOException e) {
            same = false;
        }
        if (!same) {
            throw new InputException(
                    "layout.changed",
                    file.toString(),
                    "the file changed while it was being read",
                    "run again when nothing writes to it");
        }
    }

    private ChunkCutter cutter(FileBytes in, Runnable pulse) {
        if (opening.format() != LayoutFormat.GEOJSON) {
            boolean quotes = opening.format() == LayoutFormat.CSV_WKT;
            boolean first = part == null || part.from == opening.offset();
            long line = first || part == null ? opening.line() : opening.line() + part.line - 1;
            long column = first ? opening.column() : 1;
            return new ChunkCutter.Lines(in, line, column, chunkBytes, limit, pulse, quotes);
        }
        if (opening.arrangement() == GeoJsonParser.Arrangement.SINGLE) {
            return new ChunkCutter.Whole(in, opening.line(), opening.column(), chunkBytes, limit, pulse);
        }
        return new ChunkCutter.Elements(in, opening.line(), opening.column(), chunkBytes, limit, pulse) {
            @Override
            void tail(Chunk rest) {
                tailBytes = rest.length;
                String named = new GeoJsonFrame(rest).tail(rest);
                if (named != null) {
                    CoordinateUnit.metres(file, metresPerUnit, named);
                }
            }
        };
    }

    /** Runs the workers until they are done or told to stop; whoever does not stop soon ends with the chunk it has. */
    private static void run(List<Worker> workers, ChunkCutter cutter, Progress progress) {
        Queue<Worker> waiting = new ConcurrentLinkedQueue<>(workers);
        try {
            Workers.run("layout-reader", workers.size(), progress, () -> {
                waiting.remove().run();
                return true;
            });
        } finally {
            cutter.stop();
        }
        // Whoever was interrupted before the end is told so, even when the workers finished all there was.
        if (progress.cancelled() || Thread.currentThread().isInterrupted()) {
            throw new CancelledException();
        }
        Worker first = null;
        for (Worker worker : workers) {
            if (worker.failure != null && (first == null || worker.chunk.number < first.chunk.number)) {
                first = worker;
            }
        }
        if (first != null && first.failure instanceof Error error) {
            throw error;
        }
        if (first != null && first.failure instanceof RuntimeException failure) {
            throw failure;
        }
    }

    /** Parses chunk after chunk, until there are none or one of the workers has failed. */
    private final class Worker implements Runnable {
        private final ChunkCutter cutter;
        private final Stage stage;
        private final Chunk chunk = new Chunk(file.toString());
        private final FeatureCollector intake;
        private final RecordParser parser;
        /** Read by the caller after it has waited for this worker's thread. */
        private @Nullable Throwable failure;

        Worker(ChunkCutter cutter, Stage stage, PolygonSink sink) {
            this.cutter = cutter;
            this.stage = stage;
            this.intake = new FeatureCollector(sink, chunk, metresPerUnit, options);
            this.parser = parser(chunk, intake);
        }

        @Override
        public void run() {
            try {
                while (cutter.next(chunk)) {
                    if (Thread.currentThread().isInterrupted()) {
                        throw new CancelledException();
                    }
                    intake.chunk(chunk);
                    parser.parse(chunk);
                    if (chunk.unfinished != null) {
                        throw chunk.unfinished;
                    }
                    stage.advance(chunk.fileBytes);
                }
            } catch (InputException e) {
                failure = chunk.failure(e);
                cutter.stop();
            } catch (RuntimeException | Error e) {
                failure = e;
                cutter.stop();
            }
        }
    }

    private RecordParser parser(Chunk chunk, FeatureCollector intake) {
        PropertyReader properties = new PropertyReader(metresPerUnit, options.assigned(), traits);
        return switch (opening.format()) {
            case GEOJSON, GEOJSON_LINES -> new GeoJsonParser(chunk, intake, properties, opening.arrangement());
            case WKT_LINES -> new WktParser(chunk, intake);
            case WKB_HEX_LINES -> new WkbHexParser(chunk, intake);
            case CSV_WKT -> {
                CsvColumns columns = opening.columns();
                if (columns == null) {
                    throw new IllegalStateException("a table without columns");
                }
                yield new CsvParser(chunk, intake, properties, columns);
            }
        };
    }
}
