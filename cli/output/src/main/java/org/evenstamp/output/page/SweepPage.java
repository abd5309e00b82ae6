package org.evenstamp.output.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.evenstamp.analysis.statistics.ShareInterval;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.engine.sweep.ProcessWindow;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.engine.sweep.SweepPoint;
import org.evenstamp.engine.sweep.SweepSummary;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.unit.Unit;

/**
 * The page of a sweep: one file that needs no network, with the process window and a probe into its runs, the limits and what
 * matters for them, how the chance became known, and the maps with the value under the pointer.
 */
public final class SweepPage {
    private static final Unit MILLIMETRE = Unit.parse("mm");

    private final SweepPlan plan;
    private final SweepSummary summary;
    private final List<ProcessWindow> windows;
    private final Optional<FieldSet> maps;

    private SweepPage(SweepPlan plan, SweepSummary summary, List<ProcessWindow> windows, Optional<FieldSet> maps) {
        this.plan = plan;
        this.summary = summary;
        this.windows = windows;
        this.maps = maps;
    }

    /**
     * Returns the page's text.
     *
     * @param windowSvg the drawn windows, as an SVG file; empty for none
     * @param weightsSvg what matters, as an SVG file; empty for nothing
     * @param maps the statistics of the kept fields
     */
    public static String of(
            SweepPlan plan, SweepSummary summary, String windowSvg, String weightsSvg, Optional<FieldSet> maps) {
        SweepPage page = new SweepPage(plan, summary, ProcessWindow.of(plan, summary.points()), maps);
        // The data come last: whatever they say is taken for nothing else.
        return template()
                .replace("{{title}}", escaped(plan.job().name()))
                .replace("{{version}}", escaped(Simulation.version()))
                .replace("{{window}}", windowSvg)
                .replace("{{weights}}", weightsSvg)
                .replace("{{data}}", page.data().replace("<", "\\u003c"));
    }

    private static String template() {
        try (InputStream in = Objects.requireNonNull(SweepPage.class.getResourceAsStream("sweep.html"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String escaped(String words) {
        return words.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }

    private String verdict() {
        int finished = summary.points().size() - summary.failed();
        if (summary.broken().isEmpty()) {
            return finished + " runs, and no limit to hold.";
        }
        ShareInterval out = summary.broken().get();
        if (plan.design() == SweepPlan.Design.GRID) {
            return String.format(
                    Locale.ROOT, "Within all limits in %.1f %% of the %d runs.", 100 * (1 - out.share()), finished);
        }
        return String.format(
                Locale.ROOT,
                "Holds in %.1f %% (%.1f to %.1f, 95 %% interval) of %d samples%s.",
                100 * (1 - out.share()),
                100 * (1 - out.most()),
                100 * (1 - out.least()),
                summary.convergence().get(summary.convergence().size() - 1).points(),
                summary.holds() ? ", which is allowed" : ", which is not enough");
    }

    private String data() {
        return JsonText.object(json -> {
            json.text("verdict", verdict()).truth("sampled", plan.design() != SweepPlan.Design.GRID);
            json.list("keys", list -> {
                for (String key : plan.keys()) {
                    list.item(key);
                }
            });
            json.list("limits", list -> {
                for (Limit limit : plan.job().limits()) {
                    list.item(item -> limit(item, limit));
                }
            });
            json.list("convergence", list -> {
                for (SweepSummary.Known known : summary.convergence()) {
                    list.item(item -> {
                        item.whole("points", known.points());
                        share(item, known.broken());
                    });
                }
            });
            json.list("windows", list -> {
                for (int i = 0; i < windows.size(); i++) {
                    int at = i;
                    list.item(item -> window(item, windows.get(at), at));
                }
            });
            json.list("points", list -> {
                for (SweepPoint point : windows.isEmpty() ? List.<SweepPoint>of() : summary.points()) {
                    list.item(item -> point(item, point));
                }
            });
            maps(json);
        });
    }

    private Unit unit(Limit limit) {
        return plan.job().fieldName(limit.fieldId()).unit();
    }

    private void limit(JsonText json, Limit limit) throws IOException {
        Unit unit = unit(limit);
        json.text("limit", LimitText.of(limit, unit)).text("unit", unit.symbol().equals("1") ? "" : unit.symbol());
        for (SweepSummary.OneLimit one : summary.limits()) {
            if (one.limit().equals(limit)) {
                share(json, one.broken());
                json.number("p05", LimitValue.shown(limit, unit, one.low()))
                        .number("p50", LimitValue.shown(limit, unit, one.median()))
                        .number("p95", LimitValue.shown(limit, unit, one.high()));
                return;
            }
        }
    }

    private static void share(JsonText json, ShareInterval share) throws IOException {
        json.group(
                "out",
                group -> group.number("share", share.share())
                        .number("least", share.least())
                        .number("most", share.most()));
    }

    private void window(JsonText json, ProcessWindow window, int slice) throws IOException {
        json.text("slice", window.slice())
                .text("across", window.across().key())
                .text("up", window.up().key());
        if (window.slice().isEmpty()) {
            json.nothing("level");
        } else {
            json.text("level", plan.axes().get(2).levels().get(slice));
        }
        texts(json, "columns", window.across().levels());
        texts(json, "rows", window.up().levels());
        numbers(json, "margins", window.margins());
    }

    private void point(JsonText json, SweepPoint point) throws IOException {
        int[] levels = plan.levels(point.index());
        texts(
                json,
                "values",
                IntStream.range(0, levels.length)
                        .mapToObj(k -> plan.axes().get(k).levels().get(levels[k]))
                        .toList());
        json.text("failure", point.failure());
        json.list("found", list -> {
            for (int i = 0; i < point.limits().size(); i++) {
                Limit limit = plan.job().limits().get(i);
                OptionalDouble found = point.limits().get(i);
                if (found.isPresent()) {
                    list.item(LimitValue.shown(limit, unit(limit), found.getAsDouble()));
                } else {
                    list.nothing();
                }
            }
        });
        numbers(json, "margins", point.margins());
    }

    private void maps(JsonText json) throws IOException {
        json.list("maps", list -> {
            if (maps.isPresent()) {
                for (Field map : maps.get().all()) {
                    list.item(item -> map(item, map));
                }
            }
        });
        if (maps.isPresent()) {
            TileGrid grid = maps.get().grid();
            json.group(
                    "grid",
                    group -> group.whole("columns", grid.columns())
                            .whole("rows", grid.rows())
                            .number("x_mm", MILLIMETRE.fromSi(grid.originXMetres()))
                            .number("y_mm", MILLIMETRE.fromSi(grid.originYMetres()))
                            .number("pitch_mm", MILLIMETRE.fromSi(grid.pitchMetres())));
        }
    }

    private static void map(JsonText json, Field map) throws IOException {
        Unit unit = map.name().unit();
        boolean difference = map.name().id().endsWith(".deviation");
        json.text("id", map.name().id())
                .text("meaning", map.name().meaning())
                .text("unit", unit.symbol().equals("1") ? "" : unit.symbol());
        json.list("values", list -> {
            for (int i = 0; i < map.grid().size(); i++) {
                if (map.known(i)) {
                    double shown = difference ? map.at(i) / unit.scale() : unit.fromSi(map.at(i));
                    list.item(Double.parseDouble(String.format(Locale.ROOT, "%.5g", shown)));
                } else {
                    list.nothing();
                }
            }
        });
    }

    private static void texts(JsonText json, String key, List<String> texts) throws IOException {
        json.list(key, list -> {
            for (String text : texts) {
                list.item(text);
            }
        });
    }

    private static void numbers(JsonText json, String key, List<OptionalDouble> numbers) throws IOException {
        json.list(key, list -> {
            for (OptionalDouble number : numbers) {
                if (number.isPresent()) {
                    list.item(number.getAsDouble());
                } else {
                    list.nothing();
                }
            }
        });
    }
}
