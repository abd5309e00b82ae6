package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * What the kept fields of all points say tile by tile: mean, standard deviation, 5, 50 and 95 % quantiles, and the chance that a
 * tile exceeds its limit. A tile counts in the points in which it has a value; without one it has no statistics. Exact, and read
 * from the store a band of tiles at a time, so that memory does not grow with the points.
 */
public final class SweepMaps {
    private static final int VALUES = 4_000_000;

    private SweepMaps() {}

    /**
     * Computes the maps.
     *
     * @param names the kept fields, as an analysis describes them, in the order of the plan
     * @param grid the tiles that all points share
     * @return for each field {@code ID.mean}, {@code .deviation}, {@code .p05}, {@code .p50}, {@code .p95}, and for each limit on
     *     every tile of it {@code ID.out}
     */
    public static FieldSet of(
            SweepPlan plan, SweepStore store, List<FieldName> names, TileGrid grid, Progress progress) {
        List<Integer> points =
                store.withFields().stream().filter(index -> index < plan.size()).toList();
        List<Field> maps = new ArrayList<>();
        try (Stage stage = progress.stage("statistics", names.size(), "fields")) {
            for (int f = 0; f < names.size() && !points.isEmpty(); f++) {
                maps.addAll(maps(plan, store, names.get(f), f, points, grid, progress));
                stage.advance(1);
            }
        }
        return FieldSet.empty(grid).with(maps);
    }

    private static List<Field> maps(
            SweepPlan plan,
            SweepStore store,
            FieldName name,
            int position,
            List<Integer> points,
            TileGrid grid,
            Progress progress) {
        int size = grid.size();
        List<Limit> limits = plan.job().limits().stream()
                .filter(limit -> limit.measure() == Limit.Measure.EACH
                        && limit.region().isEmpty()
                        && limit.fieldId().equals(name.id()))
                .toList();
        double[][] statistics = new double[5 + limits.size()][size];
        int band = Math.max(1, Math.min(size, VALUES / points.size()));
        for (int from = 0; from < size; from += band) {
            progress.checkCancelled();
            int length = Math.min(band, size - from);
            double[][] values = new double[points.size()][length];
            for (int p = 0; p < values.length; p++) {
                store.read(points.get(p), position, size, from, values[p]);
            }
            for (int i = 0; i < length; i++) {
                int tile = i;
                double[] sorted = Arrays.stream(values)
                        .mapToDouble(row -> row[tile])
                        .filter(value -> !Double.isNaN(value))
                        .sorted()
                        .toArray();
                tile(sorted, limits, statistics, from + i);
            }
        }
        String unit = name.unit().symbol();
        List<Field> maps = new ArrayList<>();
        String[] ids = {"mean", "deviation", "p05", "p50", "p95"};
        String[] meanings = {"mean", "standard deviation", "5 % quantile", "median", "95 % quantile"};
        for (int s = 0; s < ids.length; s++) {
            maps.add(Field.of(
                    FieldName.of(name.id() + "." + ids[s], unit, meanings[s] + " over the sweep: " + name.meaning()),
                    grid,
                    statistics[s]));
        }
        for (int l = 0; l < limits.size(); l++) {
            maps.add(Field.of(
                    FieldName.of(
                            name.id() + ".out" + (l == 0 ? "" : "." + (l + 1)),
                            "1",
                            "chance that the tile exceeds its limit of " + name.id()),
                    grid,
                    statistics[5 + l]));
        }
        return maps;
    }

    private static void tile(double[] sorted, List<Limit> limits, double[][] statistics, int at) {
        int n = sorted.length;
        if (n == 0) {
            for (double[] map : statistics) {
                map[at] = Double.NaN;
            }
            return;
        }
        double mean = 0;
        for (double value : sorted) {
            mean += value / n;
        }
        double square = 0;
        for (double value : sorted) {
            square += (value - mean) * (value - mean) / n;
        }
        statistics[0][at] = mean;
        statistics[1][at] = Math.sqrt(square);
        statistics[2][at] = Quantiles.of(sorted, 0.05);
        statistics[3][at] = Quantiles.of(sorted, 0.5);
        statistics[4][at] = Quantiles.of(sorted, 0.95);
        for (int l = 0; l < limits.size(); l++) {
            Limit limit = limits.get(l);
            long out = Arrays.stream(sorted)
                    .filter(value -> LimitCheck.margin(limit, value) < 0)
                    .count();
            statistics[5 + l][at] = (double) out / n;
        }
    }
}
