package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.evenstamp.analysis.statistics.JointDistribution;
import org.evenstamp.analysis.statistics.LatinHypercube;
import org.evenstamp.analysis.statistics.SobolIndices;
import org.evenstamp.analysis.statistics.SobolPoints;
import org.evenstamp.analysis.statistics.UnitPoints;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.problem.InputException;
import org.jspecify.annotations.Nullable;

/**
 * The points of a sweep: which values each of them takes. Immutable; a point depends on its number alone.
 *
 * <p>By {@link Design}: a full grid over the levels of all axes, the last axis fastest; scrambled Sobol points or a Latin
 * hypercube through the axes' distributions; or the runs that Sobol indices are computed from.
 */
public final class SweepPlan {
    private final Job job;
    private final Design design;
    private final List<SweepAxis> axes;
    private final int samples;
    private final List<String> kept;
    private final @Nullable UnitPoints points;
    private final JointDistribution joint;

    /** How points are chosen. */
    public enum Design {
        /** Scrambled Sobol points. */
        SOBOL,
        /** A Latin hypercube. */
        LATIN,
        /** Every combination of the levels. */
        GRID,
        /** The runs for Sobol indices: two points, and one more for every axis, a sample. */
        INDICES;

        /** Returns the word for it in a job. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * Makes a plan.
     *
     * @param job the job that every point is a variant of
     * @param axes what varies, at least one, no key twice
     * @param samples number of samples; a grid has as many as it has combinations
     * @param seed of the points; another seed gives others
     * @param correlations of the axes, none for a grid or indices; null for none
     * @param kept ids of fields of which every point's values are kept
     * @throws IllegalArgumentException when the correlations cannot be
     */
    public SweepPlan(
            Job job,
            Design design,
            List<SweepAxis> axes,
            int samples,
            long seed,
            double @Nullable [][] correlations,
            List<String> kept) {
        this.job = job;
        this.design = design;
        this.axes = List.copyOf(axes);
        this.kept = List.copyOf(kept);
        this.joint = correlations == null
                ? JointDistribution.independent(
                        axes.stream().map(SweepAxis::law).toList())
                : JointDistribution.correlated(axes.stream().map(SweepAxis::law).toList(), correlations);
        this.points = switch (design) {
            case GRID -> null;
            case SOBOL -> new SobolPoints(axes.size(), seed);
            case LATIN -> new LatinHypercube(axes.size(), samples, seed);
            case INDICES -> new SobolPoints(2 * axes.size(), seed);
        };
        this.samples = design == Design.GRID
                ? axes.stream().mapToInt(axis -> axis.levels().size()).reduce(1, Math::multiplyExact)
                : samples;
    }

    /** Returns the plan of the first samples only, of Sobol points. */
    SweepPlan first(int count) {
        return new SweepPlan(this, count);
    }

    private SweepPlan(SweepPlan whole, int samples) {
        this.job = whole.job;
        this.design = whole.design;
        this.axes = whole.axes;
        this.kept = whole.kept;
        this.joint = whole.joint;
        this.points = whole.points;
        this.samples = samples;
    }

    /** Returns the job that every point is a variant of. */
    public Job job() {
        return job;
    }

    /** Returns how points are chosen. */
    public Design design() {
        return design;
    }

    /** Returns what varies. */
    public List<SweepAxis> axes() {
        return axes;
    }

    /** Returns the fields that are kept. */
    public List<String> kept() {
        return kept;
    }

    /** Returns the number of samples. */
    public int samples() {
        return samples;
    }

    /** Returns the number of points, each of which is a run. */
    public int size() {
        return design == Design.INDICES ? Math.multiplyExact(samples, axes.size() + 2) : samples;
    }

    /**
     * Returns what a point changes, by key, as a job writes it.
     *
     * @param index from 0 to {@link #size()}
     */
    public Map<String, String> changes(int index) {
        double[] values = new double[axes.size()];
        Map<String, String> changes = new LinkedHashMap<>();
        int[] levels = design == Design.GRID ? levels(index) : new int[0];
        double[] drawn = design == Design.GRID ? values : joint.values(point(index));
        for (int k = 0; k < values.length; k++) {
            SweepAxis axis = axes.get(k);
            if (axis instanceof SweepAxis.Times times) {
                values[k] = design == Design.GRID ? times.level(levels[k]) : drawn[k];
                changes.put(axis.key(), ""); // its place among the keys
            } else {
                changes.put(axis.key(), design == Design.GRID ? axis.levels().get(levels[k]) : axis.text(drawn[k]));
            }
        }
        for (int k = 0; k < values.length; k++) {
            if (axes.get(k) instanceof SweepAxis.Times times) {
                changes.put(times.key(), times.text(values[k] * base(times.key(), changes)));
            }
        }
        return changes;
    }

    /** Returns what the job has behind a key with the other changes; its own where it cannot be changed so. */
    private double base(String key, Map<String, String> changes) {
        Map<String, String> others = new LinkedHashMap<>(changes);
        others.values().removeIf(String::isEmpty);
        others.remove(key);
        try {
            return job.with(others).settings().quantity(key);
        } catch (InputException e) {
            return job.settings().quantity(key); // whoever makes the variant hears why
        }
    }

    /** Returns the number of the level of each axis at a point of a grid. */
    public int[] levels(int index) {
        int[] levels = new int[axes.size()];
        int rest = index;
        for (int k = levels.length - 1; k >= 0; k--) {
            int count = axes.get(k).levels().size();
            levels[k] = rest % count;
            rest /= count;
        }
        return levels;
    }

    /** Returns where in the unit cube a point lies that is none of a grid. */
    double[] point(int index) {
        UnitPoints all = Objects.requireNonNull(points);
        int parts = axes.size() + 2;
        return design == Design.INDICES ? SobolIndices.point(all, index / parts, index % parts - 2) : all.point(index);
    }

    /**
     * Returns the job of a point.
     *
     * @throws org.evenstamp.shared.problem.InputException when no job can be like this
     */
    public Job variant(int index) {
        return job.with(changes(index));
    }

    /** Returns the names of the axes. */
    public List<String> keys() {
        List<String> keys = new ArrayList<>();
        axes.forEach(axis -> keys.add(axis.key()));
        return keys;
    }
}
