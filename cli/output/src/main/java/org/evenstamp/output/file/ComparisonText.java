package org.evenstamp.output.file;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.Comparison.LimitChange;
import org.evenstamp.engine.design.Comparison.Row;
import org.evenstamp.engine.result.LimitValue;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.finding.Limit;

/** A comparison as lines of text and as JSON. */
public final class ComparisonText {
    private static final int DIGITS = 4;

    private ComparisonText() {}

    /** Returns the table and what became of each limit as lines of text. */
    public static String text(Comparison comparison) {
        StringBuilder text = new StringBuilder(table(comparison));
        for (LimitChange change : comparison.limitChanges()) {
            text.append("limit ").append(line(change)).append('\n');
        }
        return text.toString();
    }

    /** Returns the table as lines of text. */
    public static String table(Comparison comparison) {
        StringBuilder text = new StringBuilder(String.format(Locale.ROOT, "%-28s %-6s", "", ""));
        comparison.variants().forEach(variant -> text.append(String.format(Locale.ROOT, " %14s", variant.name())));
        text.append('\n');
        for (Row row : comparison.rows()) {
            text.append(String.format(Locale.ROOT, "%-28s %-6s", row.what(), row.unit()));
            for (OptionalDouble value : row.values()) {
                text.append(String.format(
                        Locale.ROOT, " %14s", value.isPresent() ? ShortDecimal.of(value.getAsDouble(), DIGITS) : "-"));
            }
            text.append('\n');
        }
        return text.toString();
    }

    /** Writes the table and what became of each limit into a document. */
    public static void json(Comparison comparison, JsonText json) throws IOException {
        tableJson(comparison, json);
        json.list("limits", list -> {
            for (LimitChange change : comparison.limitChanges()) {
                list.item(line(change));
            }
        });
    }

    /** Writes the table into a document. */
    public static void tableJson(Comparison comparison, JsonText json) throws IOException {
        List<Row> rows = comparison.rows();
        json.list("variants", list -> {
            for (int v = 0; v < comparison.variants().size(); v++) {
                int variant = v;
                list.item(item -> {
                    item.text("name", comparison.variants().get(variant).name());
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

    /** Returns what became of a limit, in one line. */
    public static String line(LimitChange change) {
        Limit limit = change.limit();
        String symbol =
                change.unit().symbol().equals("1") ? "" : " " + change.unit().symbol();
        return limit.subject() + " " + limit.measure().word()
                + (limit.side() == Limit.Side.AT_MOST ? " <= " : " >= ")
                + number(change, OptionalDouble.of(limit.boundSi())) + symbol + ": "
                + number(change, change.beforeSi()) + " -> "
                + number(change, change.afterSi()) + symbol + ", "
                + words(change.fate());
    }

    private static String words(Comparison.Fate fate) {
        return switch (fate) {
            case KEPT -> "kept";
            case NEWLY_EXCEEDED -> "WORSE: exceeded now";
            case EXCEEDED_MORE -> "WORSE: exceeded by more";
            case EXCEEDED_LESS -> "exceeded by less";
            case EXCEEDED_ALIKE -> "exceeded as before";
            case MENDED -> "kept now";
            case UNKNOWN -> "not checked";
        };
    }

    private static String number(LimitChange change, OptionalDouble si) {
        return si.isPresent()
                ? ShortDecimal.of(LimitValue.shown(change.limit(), change.unit(), si.getAsDouble()), DIGITS)
                : "-";
    }
}
