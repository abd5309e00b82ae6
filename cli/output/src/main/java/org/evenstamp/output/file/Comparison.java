package org.evenstamp.output.file;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.engine.result.RegionStatistics;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Unit;

/**
 * Variants of a stamp beside each other: the figures that a designer looks at, and what became of each limit.
 *
 * @param variants the first is the stamp as it was, the second what is proposed
 * @param limits the limits of the job
 * @param regions of the stamp as proposed; over those of a role the residual layer of every variant is told apart
 */
public record Comparison(List<Variant> variants, List<Limit> limits, List<Region> regions) {
    /**
     * One of them.
     *
     * @param name a word or two
     * @param fields its fields
     */
    public record Variant(String name, FieldSet fields) {}

    /** Copies the lists. */
    public Comparison {
        variants = List.copyOf(variants);
        limits = List.copyOf(limits);
        regions = List.copyOf(regions);
    }

    private record Row(String what, String unit, List<OptionalDouble> values) {}

    /** What became of a limit. */
    private enum Fate {
        KEPT("kept"),
        BROKEN_NOW("WORSE: exceeded now"),
        WORSE("WORSE: exceeded by more"),
        LESS("exceeded by less"),
        SAME("exceeded as before"),
        MENDED("kept now"),
        UNKNOWN("not checked");

        private final String words;

        Fate(String words) {
            this.words = words;
        }
    }

    /** Returns the limits that the second variant breaks and the first does not, or breaks further. */
    public List<String> worse() {
        List<String> worse = new ArrayList<>();
        for (Limit limit : limits) {
            Fate fate = fate(limit);
            if (fate == Fate.BROKEN_NOW || fate == Fate.WORSE) {
                worse.add(limitLine(limit));
            }
        }
        return worse;
    }

    /** Returns three standard deviations of the residual layer of a field set, m. */
    public static OptionalDouble residualSigma3(FieldSet fields) {
        return residual(fields).map(field -> OptionalDouble.of(sigma3(field))).orElse(OptionalDouble.empty());
    }

    /** Returns the residual layer: solved where the film is solved, else the tiles' own balance. */
    public static Optional<Field> residual(FieldSet fields) {
        return fields.find("residual.final").or(() -> fields.find("residual.local"));
    }

    private static double sigma3(Field field) {
        return 3 * field.name().unit().toSi(FieldStatistics.of(field).sigma());
    }

    /** Returns the table and what became of each limit as lines of text. */
    public String text() {
        StringBuilder text = new StringBuilder(table());
        for (Limit limit : limits) {
            text.append("limit ").append(limitLine(limit)).append('\n');
        }
        return text.toString();
    }

    /** Returns the table as lines of text. */
    public String table() {
        List<Row> rows = rows();
        StringBuilder text = new StringBuilder(String.format(Locale.ROOT, "%-28s %-6s", "", ""));
        variants.forEach(variant -> text.append(String.format(Locale.ROOT, " %14s", variant.name())));
        text.append('\n');
        for (Row row : rows) {
            text.append(String.format(Locale.ROOT, "%-28s %-6s", row.what(), row.unit()));
            for (OptionalDouble value : row.values()) {
                text.append(String.format(Locale.ROOT, " %14s", value.isPresent() ? shown(value.getAsDouble()) : "-"));
            }
            text.append('\n');
        }
        return text.toString();
    }

    /** Writes the table and what became of each limit into a document. */
    public void json(JsonText json) throws IOException {
        tableJson(json);
        json.list("limits", list -> {
            for (Limit limit : limits) {
                list.item(limitLine(limit));
            }
        });
    }

    /** Writes the table into a document. */
    public void tableJson(JsonText json) throws IOException {
        List<Row> rows = rows();
        json.list("variants", list -> {
            for (int v = 0; v < variants.size(); v++) {
                int variant = v;
                list.item(item -> {
                    item.text("name", variants.get(variant).name());
                    for (Row row : rows) {
                        OptionalDouble value = row.values().get(variant);
                        if (value.isPresent()) {
                            item.number(
                                    row.what() + (row.unit().isEmpty() ? "" : " (" + row.unit() + ")"),
                                    value.getAsDouble());
                        }
                    }
                });
            }
        });
    }

    private List<Row> rows() {
        List<Row> rows = new ArrayList<>();
        add(
                rows,
                "residual mean",
                "nm",
                fields -> residual(fields).map(f -> FieldStatistics.of(f).mean()));
        add(
                rows,
                "residual 3 sigma",
                "nm",
                fields -> residual(fields).map(f -> 3 * FieldStatistics.of(f).sigma()));
        add(
                rows,
                "residual max - min",
                "nm",
                fields -> residual(fields).map(FieldStatistics::of).map(s -> s.max() - s.min()));
        add(
                rows,
                "residual min",
                "nm",
                fields -> residual(fields).map(f -> FieldStatistics.of(f).min()));
        for (Region region : regions) {
            Role role = region.role();
            if (role != null) {
                over(rows, "residual mean, " + role.word(), region, RegionStatistics::mean);
                over(rows, "residual 3 sigma, " + role.word(), region, RegionStatistics::sigma3);
            }
        }
        most(rows, "fill time, last tile", "s", "fill.time");
        add(
                rows,
                "fill time, mean",
                "s",
                fields ->
                        fields.find("fill.time").map(f -> FieldStatistics.of(f).mean()));
        add(
                rows,
                "fill share, least",
                "1",
                fields ->
                        fields.find("fill.share").map(f -> FieldStatistics.of(f).min()));
        most(rows, "pressure, peak", "MPa", "pressure.peak");
        most(rows, "tear index, worst", "1", "release.tear");
        most(rows, "etch time, longest", "s", "etch.clear");
        add(
                rows,
                "cavity fraction, mean",
                "1",
                fields -> fields.find("cavity.fraction")
                        .map(f -> FieldStatistics.of(f).mean()));
        if (!limits.isEmpty()) {
            add(
                    rows,
                    "limits exceeded",
                    "",
                    fields -> Optional.of((double) limits.stream()
                            .filter(limit -> fields.find(limit.fieldId())
                                    .map(field -> LimitCheck.found(limit, field))
                                    .filter(found -> found.isPresent() && excess(limit, found.getAsDouble()) > 0)
                                    .isPresent())
                            .count()));
        }
        return rows;
    }

    private void most(List<Row> rows, String what, String unit, String id) {
        add(
                rows,
                what,
                unit,
                fields -> fields.find(id)
                        .map(FieldStatistics::of)
                        .filter(s -> s.known() > 0)
                        .map(FieldStatistics::max));
    }

    private void over(List<Row> rows, String what, Region region, ToDoubleFunction<RegionStatistics> number) {
        add(
                rows,
                what,
                "nm",
                fields -> residual(fields)
                        .flatMap(field -> RegionStatistics.of(field, region))
                        .map(number::applyAsDouble));
    }

    private interface Measured {
        Optional<Double> at(FieldSet fields);
    }

    private void add(List<Row> rows, String what, String unit, Measured look) {
        List<OptionalDouble> values = variants.stream()
                .map(variant ->
                        look.at(variant.fields()).map(OptionalDouble::of).orElse(OptionalDouble.empty()))
                .toList();
        if (values.stream().anyMatch(OptionalDouble::isPresent)) {
            rows.add(new Row(what, unit, values));
        }
    }

    private OptionalDouble found(Limit limit, int variant) {
        return variants.get(variant)
                .fields()
                .find(limit.fieldId())
                .map(field -> LimitCheck.found(limit, field))
                .orElse(OptionalDouble.empty());
    }

    private static double excess(Limit limit, double value) {
        double excess = limit.side() == Limit.Side.AT_MOST ? value - limit.boundSi() : limit.boundSi() - value;
        return Math.max(0, excess - 1e-9 * Math.abs(limit.boundSi()));
    }

    private Fate fate(Limit limit) {
        OptionalDouble first = found(limit, 0);
        OptionalDouble second = found(limit, 1);
        if (first.isEmpty() || second.isEmpty()) {
            return Fate.UNKNOWN;
        }
        double before = excess(limit, first.getAsDouble());
        double after = excess(limit, second.getAsDouble());
        if (after == 0) {
            return before == 0 ? Fate.KEPT : Fate.MENDED;
        }
        if (before == 0) {
            return Fate.BROKEN_NOW;
        }
        return after > before * (1 + 1e-6) ? Fate.WORSE : after < before * (1 - 1e-6) ? Fate.LESS : Fate.SAME;
    }

    private String limitLine(Limit limit) {
        Unit unit = variants.get(0)
                .fields()
                .find(limit.fieldId())
                .map(field -> field.name().unit())
                .orElse(Unit.ONE);
        String symbol = unit.symbol().equals("1") ? "" : " " + unit.symbol();
        return limit.fieldId() + " " + limit.measure().word()
                + (limit.side() == Limit.Side.AT_MOST ? " <= " : " >= ")
                + shown(LimitValue.shown(limit, unit, limit.boundSi())) + symbol + ": " + value(limit, unit, 0) + " -> "
                + value(limit, unit, 1) + symbol + ", "
                + fate(limit).words;
    }

    private String value(Limit limit, Unit unit, int variant) {
        OptionalDouble found = found(limit, variant);
        return found.isPresent() ? shown(LimitValue.shown(limit, unit, found.getAsDouble())) : "-";
    }

    static String shown(double value) {
        if (value == 0) {
            return "0";
        }
        double power = Math.pow(10, 3 - Math.floor(Math.log10(Math.abs(value))));
        double rounded = Math.rint(value * power) / power;
        return Objects.requireNonNull(ShortDecimal.of(Double.isFinite(rounded) ? rounded : value));
    }
}
