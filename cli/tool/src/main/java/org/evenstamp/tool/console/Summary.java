package org.evenstamp.tool.console;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.result.ResidualLayer;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/** Tells a run on one screen. */
public final class Summary {
    private static final int MOST_FIELDS = 24;
    private static final int MOST_FINDINGS = 5;
    private static final int MOST_PLACES = 5;
    private static final int MOST_WARNINGS = 3;
    private static final int MOST_REASON = 90;
    private static final int DIGITS = 4;
    private static final String AREA_ROW = "%-22s %11s %11s %11s %11s %9s %9s  %s";

    private final Console console;
    private final StringBuilder text = new StringBuilder();

    private Summary(Console console) {
        this.console = console;
    }

    /**
     * Returns the summary as lines.
     *
     * @param place where the results are; null when none were written
     */
    public static String of(Results results, @Nullable String place, Console console) {
        Summary summary = new Summary(console);
        summary.heading(results);
        summary.regions(results);
        summary.dies(results);
        summary.fields(results);
        summary.roles(results);
        summary.analyses(results);
        summary.findings(results);
        summary.ranking(results);
        summary.warnings(results);
        summary.line(place == null ? "no results written (--out DIR writes them)" : "results: " + PlainText.of(place));
        results.cautions().forEach(caution -> summary.line("take care: " + caution));
        return summary.text.toString();
    }

    /** Returns the lines about the limits alone. */
    public static String ofLimits(Results results, Console console) {
        Summary summary = new Summary(console);
        summary.findings(results);
        return summary.text.toString();
    }

    private void line(String line) {
        text.append(line).append('\n');
    }

    private void heading(Results results) {
        TileGrid grid = results.fields().grid();
        String size = ShortDecimal.of(round(grid.pitchMetres() * 1e6)) + " um";
        line(console.in(TextStyle.STRONG, PlainText.cut(results.name())) + "  " + grid.columns() + " x " + grid.rows()
                + " tiles of " + size + sentence(results.map().pitchReason()));
        line(results.read().format() + ": "
                + results.read().counts().entrySet().stream()
                        .map(count -> String.format(Locale.ROOT, "%,d", count.getValue()) + " " + count.getKey())
                        .collect(Collectors.joining(", ")));
        line("");
    }

    private static String sentence(String reason) {
        return reason.isBlank() ? "" : " (" + reason.strip().replaceFirst("\\.$", "") + ")";
    }

    private void fields(Results results) {
        List<Field> all = List.copyOf(results.fields().all());
        int width = Math.max(
                5,
                all.stream().mapToInt(field -> field.name().id().length()).max().orElse(0));
        line(console.in(
                TextStyle.STRONG,
                String.format(
                        Locale.ROOT, "%-" + width + "s %11s %11s %11s  %s", "field", "min", "mean", "max", "unit")));
        for (Field field : all.subList(0, Math.min(MOST_FIELDS, all.size()))) {
            FieldStatistics numbers = FieldStatistics.of(field);
            String row = numbers.known() == 0
                    ? String.format(
                            Locale.ROOT, "%-" + width + "s %35s", field.name().id(), "no value in any tile")
                    : String.format(
                            Locale.ROOT,
                            "%-" + width + "s %11s %11s %11s  %s",
                            field.name().id(),
                            shown(numbers.min()),
                            shown(numbers.mean()),
                            shown(numbers.max()),
                            field.name().unit().symbol());
            line(row);
        }
        if (all.size() > MOST_FIELDS) {
            line("and " + (all.size() - MOST_FIELDS) + " more fields, see fields.json");
        }
        line("");
    }

    /** Tells the residual layer role by role, where features of several roles are drawn. */
    private void roles(Results results) {
        Field residual = ResidualLayer.of(results.fields()).orElse(null);
        if (residual == null) {
            return;
        }
        List<Region> roles = results.map().regions().stream()
                .filter(region -> region.role() != null)
                .filter(region -> AreaStatistics.of(residual, region::share).isPresent())
                .toList();
        if (roles.isEmpty()) {
            return;
        }
        double stamp = results.map().outline().areaSquareMetres();
        areaHeading(residual.name().id() + " by role");
        for (Region region : roles) {
            area(
                    Objects.requireNonNull(region.role()).word(),
                    residual,
                    AreaStatistics.of(residual, region::share).orElseThrow(),
                    region.areaSquareMetres(results.fields().grid()) / stamp);
        }
        line("");
    }

    /** Tells the residual layer of the regions that matter, and that of the whole stamp behind it. */
    private void regions(Results results) {
        Field residual = ResidualLayer.of(results.fields()).orElse(null);
        if (residual == null || results.fields().regions().isEmpty()) {
            return;
        }
        double stamp = results.map().outline().areaSquareMetres();
        areaHeading(residual.name().id());
        for (NamedRegion region : results.fields().regions()) {
            AreaStatistics.of(residual, region)
                    .ifPresent(one -> area(
                            region.isFeatures() ? "where features are" : PlainText.cut(region.name()),
                            residual,
                            one,
                            region.areaSquareMetres(results.fields().grid()) / stamp));
        }
        AreaStatistics.of(residual, tile -> 1).ifPresent(one -> area("whole stamp", residual, one, 1));
        line("");
    }

    /** Tells of stepped dies how many there are, and the lowest and the highest mean of their residual layers. */
    private void dies(Results results) {
        List<Die> dies = results.map().dies();
        if (dies.isEmpty()) {
            return;
        }
        Field residual = ResidualLayer.of(results.fields()).orElse(null);
        String text = String.format(Locale.ROOT, "%,d", dies.size()) + (dies.size() == 1 ? " die" : " dies");
        if (residual != null) {
            Map<Die, Double> means = new LinkedHashMap<>();
            for (Die die : dies) {
                AreaStatistics.of(residual, die, results.map().outline()).ifPresent(one -> means.put(die, one.mean()));
            }
            if (!means.isEmpty()) {
                Map.Entry<Die, Double> least = Collections.min(means.entrySet(), Map.Entry.comparingByValue());
                Map.Entry<Die, Double> most = Collections.max(means.entrySet(), Map.Entry.comparingByValue());
                String unit = " " + residual.name().unit().symbol();
                text += ": mean residual layer from " + shown(least.getValue()) + unit + " in "
                        + least.getKey().name() + " to " + shown(most.getValue()) + unit + " in "
                        + most.getKey().name() + ", all in dies.csv";
            }
        }
        line(text);
        line("");
    }

    private void areaHeading(String title) {
        line(console.in(
                TextStyle.STRONG,
                String.format(
                        Locale.ROOT, AREA_ROW, title, "min", "mean", "max", "3 sigma", "of stamp", "tiles", "unit")));
    }

    private void area(String name, Field residual, AreaStatistics one, double share) {
        line(String.format(
                Locale.ROOT,
                AREA_ROW,
                name,
                shown(one.min()),
                shown(one.mean()),
                shown(one.max()),
                shown(one.sigma3()),
                shown(100 * share) + " %",
                String.format(Locale.ROOT, "%,d", one.tiles()),
                residual.name().unit().symbol()));
    }

    private void analyses(Results results) {
        if (!results.analyses().isEmpty()) {
            line("analyses: "
                    + results.analyses().stream().map(Results.AnalysisPart::id).collect(Collectors.joining(", ")));
        }
        results.skipped().forEach((id, reason) -> line("skipped " + id + ": " + shortened(PlainText.of(reason))));
    }

    private static String shortened(String reason) {
        return reason.length() <= MOST_REASON ? reason : reason.substring(0, MOST_REASON) + " ...";
    }

    private void findings(Results results) {
        int broken = results.broken().size();
        int limits = results.limits().size();
        results.incomplete().ifPresent(warning -> line(console.in(TextStyle.BAD, PlainText.of(warning.message()))));
        results.unfilled().ifPresent(unfilled -> line(console.in(TextStyle.BAD, unfilled.sentence())));
        String unchecked = results.skipped().get("stamp");
        if (unchecked != null && !results.analyses().isEmpty()) {
            line(console.in(TextStyle.CARE, "stamp NOT checked") + ": " + shortened(unchecked));
        }
        if (limits == 0) {
            return;
        }
        if (broken == 0) {
            line(console.in(TextStyle.GOOD, limits == 1 ? "the limit is kept" : "all " + limits + " limits are kept"));
            tooClose(results);
            return;
        }
        line(console.in(TextStyle.BAD, broken + " of " + limits + (limits == 1 ? " limit" : " limits") + " exceeded"));
        for (Finding.LimitBroken finding : results.broken().subList(0, Math.min(MOST_FINDINGS, broken))) {
            line("  " + finding(finding, results));
        }
        if (broken > MOST_FINDINGS) {
            line("  and " + (broken - MOST_FINDINGS) + " more, see result.json");
        }
        tooClose(results);
    }

    private void tooClose(Results results) {
        if (!results.close().isEmpty()) {
            line(console.in(TextStyle.CARE, "too close to call on these tiles") + ": "
                    + Limit.subjects(results.close()));
        }
    }

    private static String finding(Finding.LimitBroken finding, Results results) {
        Limit limit = finding.limit();
        Unit unit = results.unit(limit);
        String symbol = unit.symbol().equals("1") ? "" : " " + unit.symbol();
        String text = limit.subject() + " " + limit.measure().word()
                + (limit.side() == Limit.Side.AT_MOST ? " <= " : " >= ")
                + shown(LimitValue.shown(limit, unit, limit.boundSi())) + symbol + ": "
                + shown(LimitValue.shown(limit, unit, finding.foundSi())) + symbol;
        if (finding.place() instanceof Place.Tile tile) {
            text += " at " + where(tile, finding.tiles());
        }
        return text;
    }

    private void ranking(Results results) {
        List<RankedPlace> worst = results.ranking().worst();
        if (worst.isEmpty()) {
            return;
        }
        int shown = Math.min(MOST_PLACES, worst.size());
        int places = results.ranking().places();
        line(console.in(TextStyle.STRONG, "worst places") + ", demand over capacity (1 is the limit)"
                + (shown < places ? ", " + shown + " of " + places + ", more in result.json" : ""));
        for (RankedPlace place : worst.subList(0, shown)) {
            String term = place.term().equals(place.limit().fieldId()) ? "" : ", most by " + place.term();
            line(String.format(
                    Locale.ROOT,
                    "  %-5s %s%s at %s",
                    shown(place.ratio()),
                    place.limit().subject(),
                    term,
                    where(place.worst(), place.tiles()) + in(place)));
            if (!place.help().isEmpty()) {
                line("        " + place.help());
            }
        }
    }

    private static String in(RankedPlace place) {
        return place.region().isEmpty() ? "" : " in " + PlainText.cut(place.region());
    }

    private static String where(Place.Tile tile, int tiles) {
        return "x " + shown(tile.xMetres() * 1e3) + " mm, y " + shown(tile.yMetres() * 1e3) + " mm (column "
                + tile.column() + ", row " + tile.row() + ")" + (tiles > 1 ? ", the worst of " + tiles + " tiles" : "");
    }

    private void warnings(Results results) {
        List<Finding.Warning> warnings = results.warnings();
        for (Finding.Warning warning : warnings.subList(0, Math.min(MOST_WARNINGS, warnings.size()))) {
            line(console.in(TextStyle.CARE, "warning") + " "
                    + PlainText.cut(warning.origin() + ": " + warning.message()));
        }
        if (warnings.size() > MOST_WARNINGS) {
            line("and " + (warnings.size() - MOST_WARNINGS) + " more warnings, see result.json");
        }
    }

    private static String shown(double value) {
        return ShortDecimal.of(round(value));
    }

    private static double round(double value) {
        if (value == 0) {
            return 0;
        }
        double power = Math.pow(10, DIGITS - 1 - Math.floor(Math.log10(Math.abs(value))));
        double rounded = Math.rint(value * power) / power;
        return Double.isFinite(rounded) ? rounded : value;
    }
}
