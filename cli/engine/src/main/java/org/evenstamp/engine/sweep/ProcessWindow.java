package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.shared.finding.Limit;

/**
 * Where all limits hold over a grid of two keys.
 *
 * @param across key of the horizontal axis
 * @param up key of the vertical axis
 * @param columns its values across, as a job writes them
 * @param rows its values upwards
 * @param margins margin of the tightest limit, row by row from the bottom; nothing where a point is missing or failed
 * @param tightest position of that limit among the job's limits
 * @param limits the job's limits
 */
public record ProcessWindow(
        String across,
        String up,
        List<String> columns,
        List<String> rows,
        List<OptionalDouble> margins,
        List<Integer> tightest,
        List<Limit> limits) {
    /** Copies the lists. */
    public ProcessWindow {
        columns = List.copyOf(columns);
        rows = List.copyOf(rows);
        margins = List.copyOf(margins);
        tightest = List.copyOf(tightest);
        limits = List.copyOf(limits);
    }

    /** Returns the window of a sweep; nothing unless it is a grid of two keys with limits. */
    public static Optional<ProcessWindow> of(SweepPlan plan, List<SweepPoint> points) {
        List<Limit> limits = plan.job().limits();
        if (plan.design() != SweepPlan.Design.GRID || plan.axes().size() != 2 || limits.isEmpty()) {
            return Optional.empty();
        }
        List<String> columns = plan.axes().get(0).levels();
        List<String> rows = plan.axes().get(1).levels();
        OptionalDouble[] margins = new OptionalDouble[columns.size() * rows.size()];
        int[] tightest = new int[margins.length];
        Arrays.fill(margins, OptionalDouble.empty());
        for (SweepPoint point : points) {
            if (point.index() < plan.size() && point.finished()) {
                int[] level = plan.levels(point.index());
                int at = level[1] * columns.size() + level[0];
                margins[at] = point.tightest();
                tightest[at] = tightest(point);
            }
        }
        List<Integer> which = new ArrayList<>();
        for (int one : tightest) {
            which.add(one);
        }
        return Optional.of(new ProcessWindow(
                plan.axes().get(0).key(), plan.axes().get(1).key(), columns, rows, List.of(margins), which, limits));
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

    /** Returns the margin at a place. */
    public OptionalDouble margin(int column, int row) {
        return margins.get(row * columns.size() + column);
    }

    /** Returns the share of the grid in which all limits hold. */
    public double openShare() {
        return (double) margins.stream()
                        .filter(margin -> margin.isPresent() && margin.getAsDouble() >= 0)
                        .count()
                / margins.size();
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
            for (int row = 0; row < rows.size(); row++) {
                for (int column = 0; column < columns.size(); column++) {
                    int c = column + step[0];
                    int r = row + step[1];
                    boolean inside = c >= 0 && r >= 0 && c < columns.size() && r < rows.size();
                    if (inside && holds(column, row) && margin(c, r).isPresent() && !holds(c, r)) {
                        count[tightest.get(r * columns.size() + c)]++;
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
