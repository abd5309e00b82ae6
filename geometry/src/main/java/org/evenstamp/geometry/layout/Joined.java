package org.evenstamp.geometry.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.shared.progress.Progress;

/**
 * Several layouts as one, their polygons one layout after the other. The same sinks take all of them, so that what a sink
 * gathers is there once a worker. Of more than one layout the line of a polygon is 0, as it would not say of which file.
 *
 * @param parts the layouts, at least one
 */
public record Joined(List<PolygonSource> parts) implements PolygonSource {
    /** Copies the list. */
    public Joined {
        if (parts.isEmpty()) {
            throw new IllegalArgumentException("nothing to join");
        }
        parts = List.copyOf(parts);
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        if (parts.size() == 1) {
            return parts.get(0).forEach(sink, threads, stage, progress);
        }
        List<S> sinks = new ArrayList<>();
        int firstChunk = 0;
        for (PolygonSource part : parts) {
            int[] given = {0};
            int from = firstChunk;
            List<Shifted<S>> shifted = part.forEach(
                    () -> {
                        if (given[0] == sinks.size()) {
                            sinks.add(sink.get());
                        }
                        return new Shifted<>(sinks.get(given[0]++), from);
                    },
                    threads,
                    stage,
                    progress);
            firstChunk = Math.max(
                    firstChunk,
                    shifted.stream().mapToInt(one -> one.endChunk).max().orElse(0));
        }
        return sinks;
    }

    /** Numbers the chunks of a layout behind those of the layouts before it. */
    private static final class Shifted<S extends PolygonSink> implements PolygonSink {
        private final S inner;
        private final int firstChunk;
        private int endChunk;

        Shifted(S inner, int firstChunk) {
            this.inner = inner;
            this.firstChunk = firstChunk;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            int own = polygon.chunk;
            polygon.chunk = firstChunk + own;
            polygon.line = 0;
            endChunk = Math.max(endChunk, polygon.chunk + 1);
            inner.accept(polygon);
            polygon.chunk = own;
        }
    }
}
