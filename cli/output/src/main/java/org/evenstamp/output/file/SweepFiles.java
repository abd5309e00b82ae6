package org.evenstamp.output.file;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.evenstamp.analysis.statistics.ShareInterval;
import org.evenstamp.analysis.statistics.SobolIndices;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.engine.sweep.SweepPoint;
import org.evenstamp.engine.sweep.SweepSummary;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Unit;

/**
 * Writes what a sweep found: {@code points.csv}, a line a point, and {@code sweep.json}, what they mean together.
 *
 * <p>In {@code points.csv} a key's value stands as the job would write it, a limit's number in the unit of its field, its margin
 * over the bound (negative outside), figures in SI. A cell is empty where there is no value.
 */
public final class SweepFiles {
    private SweepFiles() {}

    /** Returns the text of {@code points.csv}. */
    public static String points(SweepPlan plan, List<SweepPoint> points) {
        List<Limit> limits = plan.job().limits();
        TreeSet<String> figures = new TreeSet<>();
        points.forEach(point -> figures.addAll(point.figures().keySet()));
        List<String> head = new ArrayList<>(List.of("point"));
        head.addAll(plan.keys());
        head.add("failure");
        head.add("within_limits");
        for (Limit limit : limits) {
            Unit unit = plan.job().fieldName(limit.fieldId()).unit();
            String name = LimitText.of(limit, unit);
            head.add(name + " (" + unit.symbol() + ")");
            head.add(name + " margin");
        }
        head.addAll(figures);
        StringBuilder text = new StringBuilder(line(head));
        for (SweepPoint point : points) {
            List<String> cells = new ArrayList<>(List.of(Integer.toString(point.index())));
            cells.addAll(plan.changes(point.index()).values());
            cells.add(point.failure());
            cells.add(point.finished() ? Boolean.toString(point.withinLimits()) : "");
            for (int i = 0; i < limits.size(); i++) {
                Limit limit = limits.get(i);
                Unit unit = plan.job().fieldName(limit.fieldId()).unit();
                OptionalDouble found = point.finished() ? point.limits().get(i) : OptionalDouble.empty();
                OptionalDouble margin = point.finished() ? point.margins().get(i) : OptionalDouble.empty();
                cells.add(found.isPresent() ? number(LimitValue.shown(limit, unit, found.getAsDouble())) : "");
                cells.add(margin.isPresent() ? number(margin.getAsDouble()) : "");
            }
            for (String figure : figures) {
                Double value = point.figures().get(figure);
                cells.add(value == null ? "" : number(value));
            }
            text.append(line(cells));
        }
        return text.toString();
    }

    private static String number(double value) {
        return String.valueOf(ShortDecimal.of(value));
    }

    private static String line(List<String> cells) {
        return cells.stream()
                        .map(cell -> cell.matches("[^\",\n\r]*") ? cell : "\"" + cell.replace("\"", "\"\"") + "\"")
                        .collect(Collectors.joining(","))
                + "\n";
    }

    /** Returns the text of {@code sweep.json}. */
    public static String summary(SweepPlan plan, SweepSummary summary) {
        return JsonText.object(json -> {
            json.text("design", plan.design().word())
                    .whole("points", plan.size())
                    .whole("finished", summary.points().size() - summary.failed())
                    .whole("failed", summary.failed());
            json.list("keys", list -> {
                for (String key : plan.keys()) {
                    list.item(key);
                }
            });
            if (summary.broken().isPresent()) {
                share(json, "chance_out_of_limits", summary.broken().get());
            }
            json.list("demands", list -> {
                for (SweepSummary.Demand demand : summary.demands()) {
                    list.item(item -> demand(item, plan, demand));
                }
            });
            json.list("convergence", list -> {
                for (SweepSummary.Known known : summary.convergence()) {
                    list.item(item -> {
                        item.whole("points", known.points());
                        share(item, "chance_out_of_limits", known.broken());
                    });
                }
            });
            json.list("limits", list -> {
                for (SweepSummary.OneLimit one : summary.limits()) {
                    list.item(item -> limit(item, plan, one));
                }
            });
            json.list("failures", list -> {
                for (SweepPoint point : summary.points()) {
                    if (!point.finished()) {
                        list.item(item -> item.whole("point", point.index()).text("reason", point.failure()));
                    }
                }
            });
        });
    }

    private static void demand(JsonText json, SweepPlan plan, SweepSummary.Demand demand) throws IOException {
        json.text("of", of(plan, demand)).number("allowed", demand.allowed());
        share(json, "found", demand.found());
        json.truth("holds", demand.holds()).truth("decided", demand.decided());
    }

    /** Returns what a demand is about, in words. */
    public static String of(SweepPlan plan, SweepSummary.Demand demand) {
        return demand.limit()
                .map(limit -> LimitText.of(
                        limit, plan.job().fieldName(limit.fieldId()).unit()))
                .orElse("limits");
    }

    private static void limit(JsonText json, SweepPlan plan, SweepSummary.OneLimit one) throws IOException {
        Unit unit = plan.job().fieldName(one.limit().fieldId()).unit();
        json.text("limit", LimitText.of(one.limit(), unit)).text("unit", unit.symbol());
        share(json, "chance_out", one.broken());
        json.number("p05", LimitValue.shown(one.limit(), unit, one.low()))
                .number("p50", LimitValue.shown(one.limit(), unit, one.median()))
                .number("p95", LimitValue.shown(one.limit(), unit, one.high()));
        if (one.weights().isPresent()) {
            json.group("weights", group -> {
                for (int k = 0; k < plan.keys().size(); k++) {
                    group.number(plan.keys().get(k), one.weights().get().get(k));
                }
            });
        }
        if (one.indices().isPresent()) {
            SobolIndices indices = one.indices().get();
            json.group("indices", group -> {
                for (int k = 0; k < plan.keys().size(); k++) {
                    SobolIndices.Estimate first = indices.first().get(k);
                    SobolIndices.Estimate total = indices.total().get(k);
                    group.group(plan.keys().get(k), of -> {
                        estimate(of, "first", first);
                        estimate(of, "total", total);
                    });
                }
            });
        }
    }

    private static void estimate(JsonText json, String key, SobolIndices.Estimate estimate) throws IOException {
        json.group(
                key,
                group -> group.number("value", estimate.value())
                        .number("least", estimate.least())
                        .number("most", estimate.most()));
    }

    private static void share(JsonText json, String key, ShareInterval share) throws IOException {
        json.group(
                key,
                group -> group.number("share", share.share())
                        .number("least", share.least())
                        .number("most", share.most()));
    }

    /** Returns the limits of a job in words, in their order. */
    public static List<String> limits(SweepPlan plan) {
        return plan.job().limits().stream()
                .map(limit -> LimitText.of(
                        limit, plan.job().fieldName(limit.fieldId()).unit()))
                .toList();
    }

    /** Returns the limits of a summary in words, in its order. */
    public static List<String> limits(SweepPlan plan, SweepSummary summary) {
        return summary.limits().stream()
                .map(one -> LimitText.of(
                        one.limit(), plan.job().fieldName(one.limit().fieldId()).unit()))
                .toList();
    }
}
