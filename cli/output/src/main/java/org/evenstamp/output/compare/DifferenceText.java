package org.evenstamp.output.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.output.text.TextStyle;
import org.evenstamp.shared.finding.Place;
import org.jspecify.annotations.Nullable;

/** Tells the difference of two runs to a person. */
public final class DifferenceText {
    private static final int DIGITS = 4;
    private static final int MOST_REASONS = 10;
    private static final int MOST_LINES = 20;

    private final RunDifference difference;
    private final boolean colour;
    private final StringBuilder text = new StringBuilder();

    private DifferenceText(RunDifference difference, boolean colour) {
        this.difference = difference;
        this.colour = colour;
    }

    /** Returns the difference as lines. */
    public static String of(RunDifference difference, boolean colour) {
        DifferenceText lines = new DifferenceText(difference, colour);
        lines.run("A", difference.a());
        lines.run("B", difference.b());
        lines.reasons();
        lines.line("");
        lines.fields();
        lines.changes();
        lines.verdict();
        return lines.text.toString();
    }

    private void line(String line) {
        text.append(line.stripTrailing()).append('\n');
    }

    private void run(String letter, StoredRun run) {
        line(letter + "  " + run.place() + ": " + TextStyle.STRONG.on(run.name(), colour) + ", " + run.verdict()
                + ", evenstamp " + run.version());
    }

    /** What may be the cause: what went into the runs. */
    private void reasons() {
        List<String> reasons = new ArrayList<>();
        for (Change<String> key : difference.job()) {
            reasons.add("job " + key.key() + ": " + shown(key.a()) + " -> " + shown(key.b()));
        }
        for (Change<String> input : difference.inputs()) {
            boolean both = input.word().equals("changed");
            reasons.add("input " + input.key() + (both ? ": its content changed" : " " + input.word()));
        }
        list(reasons, MOST_REASONS);
    }

    private static String shown(@Nullable String value) {
        return value == null ? "not set" : "\"" + value + "\"";
    }

    private void list(List<String> lines, int most) {
        lines.stream().limit(most).forEach(this::line);
        if (lines.size() > most) {
            line("and " + (lines.size() - most) + " more, see --json");
        }
    }

    private void fields() {
        List<FieldDifference> different =
                difference.fields().stream().filter(field -> !field.same()).toList();
        if (!different.isEmpty()) {
            int width = different.stream()
                    .mapToInt(field -> field.field().length())
                    .max()
                    .orElse(0);
            line(TextStyle.STRONG.on(
                    row(width, "field", "tiles", "largest", "rms", "mean shift", "relative") + "  unit   largest at",
                    colour));
            for (FieldDifference field : different) {
                line(row(
                                width,
                                field.field(),
                                Integer.toString(field.beyond()),
                                number(field.largest()),
                                number(field.rms()),
                                number(field.meanShift()),
                                number(field.relative()))
                        + String.format(Locale.ROOT, "  %-5s  %s", field.unit(), where(field)));
                if (field.onlyA() + field.onlyB() > 0) {
                    line("    a value in A alone in " + field.onlyA() + " tiles, in B alone in " + field.onlyB());
                }
            }
        }
        int same = difference.fields().size() - different.size();
        if (same > 0) {
            line((different.isEmpty() ? "all " : "the other ") + count(same, "field")
                    + (same == 1 ? " is" : " are") + " the same"
                    + (difference.tolerance().equals(Tolerance.EXACT) ? "" : " within the tolerance"));
        }
    }

    private static String row(int width, String field, String... numbers) {
        StringBuilder row = new StringBuilder(String.format(Locale.ROOT, "%-" + Math.max(5, width) + "s", field));
        for (String number : numbers) {
            row.append(String.format(Locale.ROOT, " %11s", number));
        }
        return row.toString();
    }

    private String where(FieldDifference field) {
        return field.worst() < 0
                ? ""
                : LimitText.place(Place.Tile.of(difference.a().grid(), field.worst())) + ": " + number(field.a())
                        + " -> " + number(field.b());
    }

    private void changes() {
        List<String> lines = new ArrayList<>();
        each(lines, "field", difference.units(), unit -> unit);
        each(lines, "analysis", difference.analyses(), nothing -> "");
        each(lines, "limit", difference.limits(), limit -> ShortDecimal.of(limit.bound()) + limit.symbol());
        each(lines, "finding", difference.findings(), DifferenceText::finding);
        each(lines, "warning", difference.warnings(), StoredWarning::message);
        each(lines, "figure", difference.figures(), DifferenceText::figure);
        list(lines, MOST_LINES);
    }

    private <T> void each(List<String> lines, String what, List<Change<T>> changes, Function<T, String> words) {
        for (Change<T> change : changes) {
            T a = change.a();
            T b = change.b();
            String values = a != null && b != null && !what.equals("warning")
                    ? words.apply(a) + " -> " + words.apply(b)
                    : words.apply(change.latest());
            lines.add(style(what, change.word()).on(what + " " + change.word(), colour) + " " + change.key()
                    + (values.isEmpty() ? "" : ": " + values));
        }
    }

    private static TextStyle style(String what, String change) {
        boolean finding = what.equals("finding");
        return finding && change.equals("came")
                ? TextStyle.BAD
                : finding && change.equals("went") ? TextStyle.GOOD : TextStyle.CARE;
    }

    private static String finding(StoredFinding finding) {
        String found = number(finding.found()) + finding.limit().symbol();
        return finding.place() instanceof Place.Tile
                ? found + " in " + finding.tiles() + (finding.tiles() == 1 ? " tile, " : " tiles, worst at ")
                        + LimitText.place(finding.place())
                : found;
    }

    private static String figure(StoredRun.Figure figure) {
        // all digits: figures that differ must not look alike
        return ShortDecimal.of(figure.value()) + (figure.unit().equals("1") ? "" : " " + figure.unit());
    }

    private static String number(double value) {
        return Objects.requireNonNull(ShortDecimal.of(value, DIGITS));
    }

    private void verdict() {
        if (difference.same()) {
            line(TextStyle.GOOD.on("the same", colour));
            return;
        }
        long fields =
                difference.fields().stream().filter(field -> !field.same()).count()
                        + difference.units().size();
        line(TextStyle.BAD.on("different", colour) + ": " + count(fields, "field") + ", "
                + count(difference.findings().size(), "finding") + ", "
                + count(difference.limits().size(), "limit") + ", "
                + count(difference.warnings().size(), "warning") + ", "
                + count(difference.figures().size(), "figure"));
    }

    private static String count(long number, String what) {
        return number + " " + what + (number == 1 ? "" : "s");
    }
}
