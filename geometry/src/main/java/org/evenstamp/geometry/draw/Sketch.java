package org.evenstamp.geometry.draw;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.geometry.layout.PolygonSource;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/**
 * The polygons of a layout for drawing.
 *
 * <p>Of more polygons than the budget, the largest are kept; among equals chance decides, the same in every run, so that a
 * field of equal features is thinned evenly. Where the vertices are too many, rings lose those that stand out least. An
 * array stays one polygon with its {@link Repeat}, and counts its copies; when they do not fit, its rectangle is drawn
 * instead.
 *
 * @param polygons the polygons kept, in the order of the file
 * @param shown polygons that they stand for, copies counted singly
 * @param total polygons of the layout, copies counted singly
 * @param arraysAsBoxes arrays drawn as their rectangle
 * @param toleranceMetres how far a simplified ring may be from its original; 0 when none was simplified
 */
public record Sketch(List<Outline> polygons, long shown, long total, int arraysAsBoxes, double toleranceMetres) {

    /** A sketch of nothing. */
    public static final Sketch EMPTY = new Sketch(List.of(), 0, 0, 0, 0);

    /** Copies the list. */
    public Sketch {
        polygons = List.copyOf(polygons);
    }

    /** What a polygon is drawn as. */
    public enum Style {
        /** A recess. */
        CAVITY,
        /** A raised part. */
        PROTRUSION,
        /** A region without dummies. */
        KEEPOUT,
        /** A region filled by a pattern too fine to draw. */
        TEXTURE,
        /** The rectangle around an array with too many copies. */
        ARRAY,
        /** A region that matters by name. */
        REGION
    }

    /**
     * One polygon.
     *
     * @param look what it is drawn as
     * @param rings for every ring x and y in turn, metres; the first is the outline
     * @param repeat its copies; null for one
     * @param traits what the feature carries in the layout
     * @param line line of the layout file on which the feature begins; 0 when it has none
     */
    public record Outline(
            Style look, List<double[]> rings, @Nullable Repeat repeat, Traits traits, long line) {
        /** Copies the list. */
        public Outline {
            rings = List.copyOf(rings);
        }

        int vertices() {
            int sum = 0;
            for (double[] ring : rings) {
                sum += ring.length / 2;
            }
            return sum;
        }
    }

    /**
     * How much a picture can show.
     *
     * @param polygons most polygons, copies counted singly
     * @param vertices most vertices, those of an array counted once
     */
    public record Budget(int polygons, int vertices) {
        /** What a browser draws without effort. */
        public static final Budget PAGE = new Budget(200_000, 2_000_000);
    }

    /**
     * Goes through a layout.
     *
     * @param drawnAreCavities whether a polygon that says nothing of its role is a cavity (else a protrusion)
     * @param threads number of threads; does not change the sketch
     */
    public static Sketch of(
            PolygonSource layout, boolean drawnAreCavities, Budget budget, int threads, Progress progress) {
        Largest kept = new Largest(drawnAreCavities, budget);
        for (Largest part : layout.forEach(
                () -> new Largest(drawnAreCavities, budget), threads, "sketching the layout", progress)) {
            kept.add(part);
        }
        List<Outline> polygons = new ArrayList<>();
        long shown = 0;
        int boxes = 0;
        for (Largest.Candidate candidate : kept.inOrder()) {
            polygons.add(candidate.outline());
            shown += candidate.copies();
            boxes += candidate.outline().look() == Style.ARRAY ? 1 : 0;
        }
        double tolerance = 0;
        long vertices = count(polygons);
        if (vertices > budget.vertices()) {
            double extent = extent(polygons);
            for (tolerance = extent * 1e-6; vertices > budget.vertices() && tolerance < extent; tolerance *= 2) {
                for (int i = 0; i < polygons.size(); i++) {
                    polygons.set(i, Simplified.outline(polygons.get(i), tolerance));
                }
                vertices = count(polygons);
            }
        }
        return new Sketch(polygons, shown, kept.total(), boxes, tolerance);
    }

    private static long count(List<Outline> polygons) {
        return polygons.stream().mapToLong(Outline::vertices).sum();
    }

    private static double extent(List<Outline> polygons) {
        double[] box = {
            Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
        };
        for (Outline polygon : polygons) {
            double[] ring = polygon.rings().get(0);
            for (int i = 0; i < ring.length; i += 2) {
                box[0] = Math.min(box[0], ring[i]);
                box[1] = Math.min(box[1], ring[i + 1]);
                box[2] = Math.max(box[2], ring[i]);
                box[3] = Math.max(box[3], ring[i + 1]);
            }
        }
        return Math.max(box[2] - box[0], box[3] - box[1]);
    }
}
