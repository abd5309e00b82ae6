package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.github.luben.zstd.ZstdOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.zip.GZIPOutputStream;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;

/** A layout read into memory, as tests look at it. */
record Reading(List<Polygon> polygons, ReadReport report) {

    static final int LIMIT = 1 << 26;
    static final ReadOptions METRES = new ReadOptions(null, 1.0, ReadOptions.Policy.SKIP);
    static final ReadOptions MENDED = new ReadOptions(null, 1.0, ReadOptions.Policy.REPAIR);

    /** A polygon as it was handed over; rings without their closing vertex. */
    record Polygon(int chunk, int ordinal, long line, Traits traits, List<List<Double>> rings) {
        static Polygon copy(PackedPolygon packed) {
            List<List<Double>> rings = new ArrayList<>();
            for (int ring = 0; ring < packed.rings; ring++) {
                rings.add(Arrays.stream(packed.xy, 2 * packed.ringStart(ring), 2 * packed.ringEnd[ring])
                        .boxed()
                        .toList());
            }
            return new Polygon(packed.chunk, packed.ordinal, packed.line, packed.traits, rings);
        }

        /** Area of the outline less that of the holes. */
        double area() {
            double area = 0;
            for (List<Double> ring : rings) {
                double sum = 0;
                for (int i = 0; i < ring.size(); i += 2) {
                    int next = (i + 2) % ring.size();
                    sum += ring.get(i) * ring.get(next + 1) - ring.get(next) * ring.get(i + 1);
                }
                area += ring == rings.get(0) ? Math.abs(sum) / 2 : -Math.abs(sum) / 2;
            }
            return area;
        }
    }

    private static final class Collector implements PolygonSink {
        private final List<Polygon> polygons = new ArrayList<>();

        @Override
        public void accept(PackedPolygon polygon) {
            polygons.add(Polygon.copy(polygon));
        }
    }

    static Reading of(LayoutFile layout, int threads) {
        List<Polygon> all = new ArrayList<>();
        for (Collector collector : layout.forEach(Collector::new, threads, "reading", new Progress())) {
            all.addAll(collector.polygons);
        }
        all.sort(Comparator.comparingInt(Polygon::chunk).thenComparingInt(Polygon::ordinal));
        return new Reading(all, layout.report());
    }

    static Reading of(Path file, ReadOptions options) {
        return of(LayoutFile.open(file, options), 1);
    }

    /** Reads a text in metres through a file. */
    static Reading of(Path directory, String text, ReadOptions options) {
        return of(file(directory, "layout.txt", text), options);
    }

    /** Reads a text whose one problem ends the reading, and returns its message. */
    static String failure(Path directory, String text) {
        return failure(() -> of(directory, text, METRES));
    }

    static String failure(org.assertj.core.api.ThrowableAssert.ThrowingCallable reading) {
        InputException e = catchThrowableOfType(InputException.class, reading);
        if (e == null) {
            throw new AssertionError("nothing was wrong");
        }
        return String.valueOf(e.getMessage());
    }

    double area() {
        return polygons.stream().mapToDouble(Polygon::area).sum();
    }

    static Path file(Path directory, String name, String text) {
        return file(directory, name, text.getBytes(StandardCharsets.UTF_8));
    }

    static Path file(Path directory, String name, byte[] bytes) {
        try {
            return Files.write(directory.resolve(name), bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static byte[] packed(String text, Compression compression) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (OutputStream out = switch (compression) {
            case NONE -> bytes;
            case GZIP -> new GZIPOutputStream(bytes);
            case ZSTD -> new ZstdOutputStream(bytes);
        }) {
            out.write(text.getBytes(StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }
}
