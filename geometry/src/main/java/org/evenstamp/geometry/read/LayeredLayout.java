package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.geometry.clean.Defect;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;

/**
 * Several layouts as one: their polygons one file after the other. The same sinks take all of them, so that what a sink gathers
 * is there once a worker. Where there is more than one file the line of a polygon is 0, as it would not say of which file.
 * Unlike a single file it refuses features whose role is no word for one.
 */
public final class LayeredLayout implements PolygonSource {
    private final List<LayoutFile> files;

    /** Puts files together, at least one. */
    public LayeredLayout(List<LayoutFile> files) {
        if (files.isEmpty()) {
            throw new IllegalArgumentException("a layout needs a file");
        }
        this.files = List.copyOf(files);
    }

    /** Returns the files in their order. */
    public List<LayoutFile> files() {
        return files;
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        List<S> sinks = files.size() == 1
                ? files.get(0).forEach(sink, threads, stage, progress)
                : eachFile(sink, threads, stage, progress);
        refuseUnknownRoles();
        return sinks;
    }

    /** What a feature is that has no known role nobody can know, and the stamp without it is another stamp. */
    private void refuseUnknownRoles() {
        Problems problems = new Problems();
        for (LayoutFile file : files) {
            for (ReadReport.Tally tally : file.report().skipped()) {
                if (tally.code().equals(Defect.ROLE.code())) {
                    for (String place : tally.places()) {
                        int why = place.indexOf(" (");
                        problems.add(
                                tally.code(),
                                place.substring(0, why),
                                "the feature that begins here: " + place.substring(why + 2, place.length() - 1),
                                "write one of these words, or leave the role out");
                    }
                    long more = tally.count() - tally.places().size();
                    if (more > 0) {
                        problems.add(
                                tally.code(),
                                file.place(),
                                more + " more features have a role that there is none of",
                                "");
                    }
                }
            }
        }
        problems.throwIfAny();
    }

    private <S extends PolygonSink> List<S> eachFile(Supplier<S> sink, int threads, String stage, Progress progress) {
        List<S> sinks = new ArrayList<>();
        int firstChunk = 0;
        for (LayoutFile file : files) {
            int[] given = {0};
            int from = firstChunk;
            List<Shifted<S>> shifted = file.forEach(
                    () -> {
                        if (given[0] == sinks.size()) {
                            sinks.add(sink.get());
                        }
                        return new Shifted<>(sinks.get(given[0]++), from);
                    },
                    threads,
                    stage,
                    progress);
            int[] ends = shifted.stream().mapToInt(one -> one.endChunk).toArray();
            firstChunk = Math.max(firstChunk, Arrays.stream(ends).max().orElse(0));
        }
        return sinks;
    }

    /** Numbers the chunks of a file behind those of the files before it. */
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
