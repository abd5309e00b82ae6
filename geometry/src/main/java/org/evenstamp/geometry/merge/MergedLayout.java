package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.shared.progress.Progress;

/** A layout in which nothing counts twice: the original polygons but for those replaced, and their replacements. */
public final class MergedLayout implements PolygonSource {
    private final PolygonSource original;
    private final Survey survey;
    private final BitSet replaced;
    private final PolygonStore replacements;
    private final List<Seam> seams;
    private final List<Span> spans;
    private final Report report;

    /**
     * A stretch of edge between two layers, which was counted once for each.
     *
     * @param x0 one end
     * @param y0 one end
     * @param x1 other end
     * @param y1 other end
     * @param layer what counted too much there
     */
    public record Seam(double x0, double y0, double x1, double y1, Layer layer) {}

    /**
     * How far the polygons reach that were merged into one.
     *
     * @param minY lower end of their boxes, m
     * @param maxY upper end
     */
    public record Span(double minY, double maxY) {}

    /**
     * What merging found.
     *
     * @param candidates pairs of polygons whose boxes meet
     * @param meeting pairs of polygons that overlap or share a stretch of edge
     * @param clusters groups of polygons that were merged
     * @param merged polygons, copies counted singly, that went into those groups
     * @param uncheckedArrays arrays with too many copies to compare
     * @param abandoned why the search was given up, empty if it was not
     */
    public record Report(
            long candidates, long meeting, int clusters, int merged, int uncheckedArrays, String abandoned) {}

    MergedLayout(
            PolygonSource original,
            Survey survey,
            BitSet replaced,
            PolygonStore replacements,
            List<Seam> seams,
            List<Span> spans,
            Report report) {
        this.original = original;
        this.survey = survey;
        this.replaced = replaced;
        this.replacements = replacements;
        this.seams = List.copyOf(seams);
        this.spans = List.copyOf(spans);
        this.report = report;
    }

    /** Returns the stretches of edge that were counted twice. */
    public List<Seam> seams() {
        return seams;
    }

    /** Returns how far each group of merged polygons reaches. */
    public List<Span> spans() {
        return spans;
    }

    /** Returns whether something may still lie on something else. */
    public boolean mayHeap() {
        return !report.abandoned().isEmpty() || report.uncheckedArrays() > 0;
    }

    /** Returns what merging found. */
    public Report report() {
        return report;
    }

    @Override
    public <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress) {
        if (replaced.isEmpty()) {
            return original.forEach(sink, threads, stage, progress);
        }
        List<S> sinks = new ArrayList<>();
        for (Filter<S> filter : original.forEach(() -> new Filter<>(sink.get()), threads, stage, progress)) {
            sinks.add(filter.inner);
        }
        sinks.addAll(replacements.forEach(sink, 1, stage, progress));
        return sinks;
    }

    private final class Filter<S extends PolygonSink> implements PolygonSink {
        private final S inner;

        Filter(S inner) {
            this.inner = inner;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            if (!replaced.get(survey.number(polygon.chunk, polygon.ordinal))) {
                inner.accept(polygon);
            }
        }
    }
}
