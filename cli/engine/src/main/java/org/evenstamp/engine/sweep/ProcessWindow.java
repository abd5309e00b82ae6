package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;

/**
 * Where all limits hold over a grid of two keys. A third key has a window for each of its values, and what more keys there are
 * stand at their worst. Between runs the margin is taken to be straight.
 *
 * @param slice the third key and its value, such as {@code process.pressure 4 MPa}; empty where two keys vary
 * @param presentSlice whether the job itself lies in this slice
 * @param across the horizontal axis
 * @param up the vertical axis
 * @param margins margin of the tightest limit, row by row from the bottom; nothing where a point is missing or failed
 * @param tightest position of that limit among the job's limits
 * @param limits the job's limits
 */
public record ProcessWindow(
        String slice,
        boolean presentSlice,
        Axis across,
        Axis up,
        List<OptionalDouble> margins,
        List<Integer> tightest,
        List<Limit> limits) {
    /** Copies the lists. */
    public ProcessWindow {
        margins = List.copyOf(margins);
        tightest = List.copyOf(tightest);
        limits = List.copyOf(limits);
    }

    /**
     * An axis of a window.
     *
     * @param key the key
     * @param levels its values, as a job writes them
     * @param present where the job's own value lies among them, 0 for the first; nothing beyond them
     */
    public record Axis(String key, List<String> levels, OptionalDouble present) {
        /** Copies the values. */
        public Axis {
            levels = List.copyOf(levels);
        }

        static Axis of(SweepAxis axis, Job job) {
            return new Axis(axis.key(), axis.levels(), place(axis.levels(), axis.key(), job));
        }

        /** Returns where the job's own value lies among ascending or descending levels. */
        private static OptionalDouble place(List<String> levels, String key, Job job) {
            OptionalDouble own = job.settings().find(key);
            int same = levels.indexOf(job.asWritten(key).orElse(""));
            if (own.isEmpty() || same >= 0) {
                return same >= 0 ? OptionalDouble.of(same) : OptionalDouble.empty();
            }
            double at = own.getAsDouble();
            try {
                for (int i = 0; i + 1 < levels.size(); i++) {
                    double a = Quantity.parse(levels.get(i)).si();
                    double b = Quantity.parse(levels.get(i + 1)).si();
                    if (a != b && (at - a) * (at - b) <= 0) {
                        return OptionalDouble.of(i + (at - a) / (b - a));
                    }
                }
            } catch (UnitException e) {
                return OptionalDouble.empty();
            }
            return OptionalDouble.empty();
        }

        /** Returns the value between two levels, in the unit of the first; the nearer level where values are no quantities. */
        public String value(double position) {
            int below = (int) Math.max(0, Math.min(Math.floor(position), levels.size() - 1.0));
            int above = Math.min(below + 1, levels.size() - 1);
            double part = position - below;
            try {
                Quantity a = Quantity.parse(levels.get(below));
                double si = a.si() + part * (Quantity.parse(levels.get(above)).si() - a.si());
                return number(a.unit().fromSi(si)) + " " + a.unit().symbol();
            } catch (UnitException e) {
                return levels.get(part < 0.5 ? below : above);
            }
        }

        private static String number(double value) {
            return new java.math.BigDecimal(value)
                    .round(new java.math.MathContext(4))
                    .stripTrailingZeros()
                    .toPlainString();
        }
    }

    /**
     * How far one key may go one way from the job's own value while the other stands.
     *
     * @param key the key
     * @param upwards whether its position among the levels rises
     * @param to where the margin reaches 0, or the last run that way
     * @param open whether every run that way holds
     */
    public record Drift(String key, boolean upwards, String to, boolean open) {}

    /** Returns the windows of a sweep, one for each value of the third key; none unless it is a grid of two keys or more with limits. */
    public static List<ProcessWindow> of(SweepPlan plan, List<SweepPoint> points) {
        if (plan.design() != SweepPlan.Design.GRID
                || plan.axes().size() < 2
                || plan.job().limits().isEmpty()) {
            return List.of();
        }
        List<SweepPoint> finished = points.stream()
                .filter(point -> point.index() < plan.size() && point.finished())
                .toList();
        if (plan.axes().size() == 2) {
            return List.of(of(plan, finished, "", true));
        }
        Axis third = Axis.of(plan.axes().get(2), plan.job());
        return IntStream.range(0, third.levels().size())
                .mapToObj(level -> of(
                        plan,
                        finished.stream()
                                .filter(point -> plan.levels(point.index())[2] == level)
                                .toList(),
                        third.key() + " " + third.value(level),
                        third.present().isPresent() && Math.abs(third.present().getAsDouble() - level) < 1e-9))
                .toList();
    }

    private static ProcessWindow of(SweepPlan plan, List<SweepPoint> points, String slice, boolean present) {
        Axis across = Axis.of(plan.axes().get(0), plan.job());
        Axis up = Axis.of(plan.axes().get(1), plan.job());
        OptionalDouble[] margins =
                new OptionalDouble[across.levels().size() * up.levels().size()];
        Integer[] tightest = new Integer[margins.length];
        Arrays.fill(margins, OptionalDouble.empty());
        Arrays.fill(tightest, 0);
        for (SweepPoint point : points) {
            int[] level = plan.levels(point.index());
            int at = level[1] * across.levels().size() + level[0];
            OptionalDouble margin = point.tightest();
            if (margin.isPresent() && margin.getAsDouble() < margins[at].orElse(Double.POSITIVE_INFINITY)) {
                margins[at] = margin;
                tightest[at] = tightest(point);
            }
        }
        return new ProcessWindow(
                slice,
                present,
                across,
                up,
                List.of(margins),
                List.of(tightest),
                plan.job().limits());
    }

    private static int tightest(SweepPoint point) {
        int tightest = 0;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < point.margins().size(); i++) {
            OptionalDouble margin = point.margins().get(i);
            if (margin.isPresent() && margin.getAsDouble() < least) {
                least = margin.getAsDouble();
                tightest = i;
            }
        }
        return tightest;
    }

    /** Returns the number of columns. */
    public int columns() {
        return across.levels().size();
    }

    /** Returns the number of rows. */
    public int rows() {
        return up.levels().size();
    }

    /** Returns the margin at a place. */
    public OptionalDouble margin(int column, int row) {
        return margins.get(row * columns() + column);
    }

    /** Returns the position of the limit that is tightest at a place. */
    public int tightest(int column, int row) {
        return tightest.get(row * columns() + column);
    }

    /** Returns the share of the grid in which all limits hold. */
    public double openShare() {
        return (double) margins.stream()
                        .filter(margin -> margin.isPresent() && margin.getAsDouble() >= 0)
                        .count()
                / margins.size();
    }

    /** Returns the margin between runs, straight along both axes; nothing beyond them or beside a run without one. */
    public OptionalDouble marginAt(double column, double row) {
        int left = (int) Math.max(0, Math.min(Math.floor(column), columns() - 2.0));
        int low = (int) Math.max(0, Math.min(Math.floor(row), rows() - 2.0));
        double sum = 0;
        for (int dy = 0; dy < 2; dy++) {
            for (int dx = 0; dx < 2; dx++) {
                double weight =
                        (dx == 0 ? 1 - (column - left) : column - left) * (dy == 0 ? 1 - (row - low) : row - low);
                if (weight != 0) {
                    OptionalDouble margin = margin(Math.min(left + dx, columns() - 1), Math.min(low + dy, rows() - 1));
                    if (margin.isEmpty()) {
                        return margin;
                    }
                    sum += weight * margin.getAsDouble();
                }
            }
        }
        return OptionalDouble.of(sum);
    }

    /**
     * Returns how far the job's own recipe may drift: left, right, down, up.
     *
     * @return nothing where the job's values lie beyond the grid, or its own place does not hold
     */
    public List<Drift> drifts() {
        if (!presentSlice
                || across.present().isEmpty()
                || up.present().isEmpty()
                || marginAt(across.present().getAsDouble(), up.present().getAsDouble())
                                .orElse(-1)
                        < 0) {
            return List.of();
        }
        List<Drift> drifts = new ArrayList<>();
        for (boolean horizontal : new boolean[] {true, false}) {
            for (boolean upwards : new boolean[] {false, true}) {
                drifts.add(drift(horizontal, upwards));
            }
        }
        return drifts;
    }

    private Drift drift(boolean horizontal, boolean upwards) {
        Axis axis = horizontal ? across : up;
        double other = (horizontal ? up : across).present().orElseThrow();
        double at = axis.present().orElseThrow();
        double here =
                horizontal ? marginAt(at, other).orElse(0) : marginAt(other, at).orElse(0);
        int last = axis.levels().size() - 1;
        while (upwards ? at < last : at > 0) {
            double next = upwards ? Math.floor(at) + 1 : Math.ceil(at) - 1;
            OptionalDouble there = horizontal ? marginAt(next, other) : marginAt(other, next);
            if (there.isEmpty() || there.getAsDouble() < 0) {
                double part = there.isEmpty() ? 0 : here / (here - there.getAsDouble());
                return new Drift(axis.key(), upwards, axis.value(at + part * (next - at)), false);
            }
            at = next;
            here = there.getAsDouble();
        }
        return new Drift(axis.key(), upwards, axis.value(at), true);
    }

    /**
     * Returns which limits close the window on each side: left, right, below, above, seen from the places that are within.
     *
     * @return for each side the positions of the limits, in order of how often they do; empty where the window is open to the rim
     */
    public List<List<Integer>> closing() {
        List<List<Integer>> sides = new ArrayList<>();
        int[][] steps = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}};
        for (int[] step : steps) {
            int[] count = new int[limits.size()];
            for (int row = 0; row < rows(); row++) {
                for (int column = 0; column < columns(); column++) {
                    int c = column + step[0];
                    int r = row + step[1];
                    boolean inside = c >= 0 && r >= 0 && c < columns() && r < rows();
                    if (inside && holds(column, row) && margin(c, r).isPresent() && !holds(c, r)) {
                        count[tightest(c, r)]++;
                    }
                }
            }
            List<Integer> order = new ArrayList<>();
            for (int i = 0; i < count.length; i++) {
                if (count[i] > 0) {
                    order.add(i);
                }
            }
            order.sort((a, b) -> count[b] - count[a]);
            sides.add(order);
        }
        return sides;
    }

    private boolean holds(int column, int row) {
        OptionalDouble margin = margin(column, row);
        return margin.isPresent() && margin.getAsDouble() >= 0;
    }
}
