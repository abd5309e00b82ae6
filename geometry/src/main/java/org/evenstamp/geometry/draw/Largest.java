package org.evenstamp.geometry.draw;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.jspecify.annotations.Nullable;

/** Keeps the largest polygons that come by, up to a budget. */
final class Largest implements PolygonSink {
    /** A polygon that may be drawn; chunk, ordinal and lowest corner tell it from all others. */
    record Candidate(
            Sketch.Outline outline, double size, double left, double bottom, int chunk, int ordinal, long copies) {
        private long shuffled() {
            // The finishing steps of SplitMix64: neighbours in the file get far-apart numbers.
            long z = ((long) chunk << 32 ^ ordinal) + 0x9e3779b97f4a7c15L;
            z = (z ^ (z >>> 30)) * 0xbf58476d1ce4e5b9L;
            z = (z ^ (z >>> 27)) * 0x94d049bb133111ebL;
            return z ^ (z >>> 31);
        }
    }

    private static final Comparator<Candidate> IN_FILE = Comparator.comparingInt(Candidate::chunk)
            .thenComparingInt(Candidate::ordinal)
            .thenComparingDouble(Candidate::left)
            .thenComparingDouble(Candidate::bottom);

    private static final Comparator<Candidate> LARGEST_FIRST = Comparator.comparingDouble(Candidate::size)
            .reversed()
            .thenComparingLong(Candidate::shuffled)
            .thenComparing(IN_FILE);

    private final boolean drawnAreCavities;
    private final Sketch.Budget budget;
    private final double[] box = new double[4];
    private List<Candidate> candidates = new ArrayList<>();
    private long total;

    Largest(boolean drawnAreCavities, Sketch.Budget budget) {
        this.drawnAreCavities = drawnAreCavities;
        this.budget = budget;
    }

    @Override
    public void accept(PackedPolygon polygon) {
        if (polygon.rings == 0) {
            return;
        }
        polygon.box(box);
        Repeat repeat = polygon.traits.repeat();
        long copies = repeat == null ? 1 : repeat.count();
        total += copies;
        double size = Math.max(box[2] - box[0], box[3] - box[1]);
        boolean boxed = repeat != null && copies > budget.polygons();
        Sketch.Outline outline = boxed
                ? new Sketch.Outline(
                        Sketch.Style.ARRAY, List.of(around(box, repeat)), null, polygon.traits, polygon.line)
                : new Sketch.Outline(
                        look(polygon), rings(polygon), copies == 1 ? null : repeat, polygon.traits, polygon.line);
        candidates.add(new Candidate(
                outline,
                boxed ? span(outline.rings().get(0)) : size,
                box[0],
                box[1],
                polygon.chunk,
                polygon.ordinal,
                boxed ? 0 : copies));
        if (candidates.size() > 2L * budget.polygons()) {
            cut();
        }
    }

    /** Takes what another one kept. */
    void add(Largest other) {
        candidates.addAll(other.candidates);
        total += other.total;
        if (candidates.size() > 2L * budget.polygons()) {
            cut();
        }
    }

    /** Returns how many polygons came by, copies counted singly. */
    long total() {
        return total;
    }

    /** Returns the polygons to draw, in the order of the file. */
    List<Candidate> inOrder() {
        candidates.sort(LARGEST_FIRST);
        List<Candidate> chosen = new ArrayList<>();
        long left = budget.polygons();
        for (Candidate candidate : candidates) {
            if (left <= 0) {
                break;
            }
            Candidate fitting = candidate.copies <= left ? candidate : asBox(candidate);
            chosen.add(fitting);
            left -= Math.max(1, fitting.copies);
        }
        chosen.sort(IN_FILE);
        return chosen;
    }

    private void cut() {
        candidates.sort(LARGEST_FIRST);
        candidates = new ArrayList<>(candidates.subList(0, budget.polygons()));
    }

    private static Candidate asBox(Candidate one) {
        double[] its = {
            Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
        };
        double[] ring = one.outline.rings().get(0);
        for (int i = 0; i < ring.length; i += 2) {
            its[0] = Math.min(its[0], ring[i]);
            its[1] = Math.min(its[1], ring[i + 1]);
            its[2] = Math.max(its[2], ring[i]);
            its[3] = Math.max(its[3], ring[i + 1]);
        }
        Sketch.Outline outline = new Sketch.Outline(
                Sketch.Style.ARRAY,
                List.of(around(its, one.outline.repeat())),
                null,
                one.outline.traits(),
                one.outline.line());
        return new Candidate(outline, one.size, one.left, one.bottom, one.chunk, one.ordinal, 0);
    }

    private Sketch.Style look(PackedPolygon polygon) {
        Role role = polygon.traits.role();
        if (role == Role.KEEPOUT) {
            return Sketch.Style.KEEPOUT;
        }
        if (role == Role.REGION) {
            return Sketch.Style.REGION;
        }
        if (polygon.traits.texture() != null) {
            return Sketch.Style.TEXTURE;
        }
        boolean cavity = role == Role.CAVITY || (role != Role.PROTRUSION && drawnAreCavities);
        return cavity ? Sketch.Style.CAVITY : Sketch.Style.PROTRUSION;
    }

    private static List<double[]> rings(PackedPolygon polygon) {
        List<double[]> rings = new ArrayList<>(polygon.rings);
        for (int r = 0; r < polygon.rings; r++) {
            rings.add(Arrays.copyOfRange(polygon.xy, 2 * polygon.ringStart(r), 2 * polygon.ringEnd[r]));
        }
        return rings;
    }

    private static double[] around(double[] box, @Nullable Repeat repeat) {
        double dx = repeat == null ? 0 : (repeat.columns() - 1) * repeat.dxMetres();
        double dy = repeat == null ? 0 : (repeat.rows() - 1) * repeat.dyMetres();
        double left = box[0] + Math.min(0, dx);
        double bottom = box[1] + Math.min(0, dy);
        double right = box[2] + Math.max(0, dx);
        double top = box[3] + Math.max(0, dy);
        return new double[] {left, bottom, right, bottom, right, top, left, top};
    }

    private static double span(double[] rectangle) {
        return Math.max(rectangle[2] - rectangle[0], rectangle[5] - rectangle[1]);
    }
}
