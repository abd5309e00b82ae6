package org.evenstamp.output.compare;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * How two runs differ.
 *
 * <p>Job, inputs and version of the tool say why they may; they do not count as a difference of results.
 *
 * @param a the first run
 * @param b the second
 * @param tolerance what counted as the same
 * @param fields every field that is in both in the same unit, in the order of A
 * @param units fields that are in one run alone, or in another unit in the other; not compared
 * @param figures numbers that changed, came or went
 * @param analyses analyses that ran in one run alone
 * @param limits limits that changed, came or went
 * @param findings broken limits that changed, came or went; a worst place that moved is no change of its own
 * @param warnings warnings that changed, came or went; numbers in them are compared within the relative tolerance
 * @param job values of the job that differ
 * @param inputs files whose content differs
 */
public record RunDifference(
        StoredRun a,
        StoredRun b,
        Tolerance tolerance,
        List<FieldDifference> fields,
        List<Change<String>> units,
        List<Change<StoredRun.Figure>> figures,
        List<Change<String>> analyses,
        List<Change<StoredLimit>> limits,
        List<Change<StoredFinding>> findings,
        List<Change<StoredWarning>> warnings,
        List<Change<String>> job,
        List<Change<String>> inputs) {
    private static final double GRID_ROUNDING = 1e-7; // of a side: numbers on disk have nine digits
    private static final Pattern NUMBER = Pattern.compile("[-+]?[0-9]+(?:\\.[0-9]+)?(?:[eE][-+]?[0-9]+)?");

    /**
     * Compares two runs.
     *
     * @throws InputException when their tiles are not the same, or the tolerance names what neither has
     */
    public static RunDifference of(StoredRun a, StoredRun b, Tolerance tolerance, Progress progress) {
        Problems problems = new Problems();
        if (!sameGrid(a.grid(), b.grid())) {
            problems.add(
                    "compare.grid",
                    b.place(),
                    "has " + words(b.grid()) + ", but " + a.place() + " has " + words(a.grid()),
                    "run both jobs on the same tiles: give both the same tiles.side and layout.outline");
        }
        tolerance.check(a, b, problems);
        problems.throwIfAny();
        return new RunDifference(
                a,
                b,
                tolerance,
                fields(a, b, tolerance, progress),
                Change.between(a.fields(), b.fields(), String::equals),
                figures(a, b, tolerance),
                Change.between(ran(a), ran(b), String::equals),
                Change.between(a.limits(), b.limits(), StoredLimit::equals),
                Change.between(a.findings(), b.findings(), (before, after) -> same(before, after, tolerance)),
                Change.between(a.warnings(), b.warnings(), (before, after) -> same(before, after, tolerance)),
                Change.between(a.job(), b.job(), String::equals),
                Change.between(a.inputs(), b.inputs(), String::equals));
    }

    /** Returns whether the results are the same within the tolerance. */
    public boolean same() {
        return fields.stream().allMatch(FieldDifference::same)
                && Stream.of(units, figures, analyses, limits, findings, warnings)
                        .allMatch(List::isEmpty);
    }

    private static boolean sameGrid(TileGrid a, TileGrid b) {
        double slack = GRID_ROUNDING * a.pitchMetres();
        return a.columns() == b.columns()
                && a.rows() == b.rows()
                && Math.abs(a.pitchMetres() - b.pitchMetres()) * Math.max(a.columns(), a.rows()) <= slack
                && Math.abs(a.originXMetres() - b.originXMetres()) <= slack
                && Math.abs(a.originYMetres() - b.originYMetres()) <= slack;
    }

    private static String words(TileGrid grid) {
        return grid.columns() + " x " + grid.rows() + " tiles of " + micrometres(grid.pitchMetres()) + " from x "
                + micrometres(grid.originXMetres()) + ", y " + micrometres(grid.originYMetres());
    }

    private static String micrometres(double metres) {
        return ShortDecimal.of(metres * 1e6) + " um";
    }

    private static Map<String, String> ran(StoredRun run) {
        Map<String, String> ran = new LinkedHashMap<>();
        run.analyses().forEach((analysis, reason) -> {
            if (reason.isEmpty()) {
                ran.put(analysis, "");
            }
        });
        return ran;
    }

    private static List<FieldDifference> fields(StoredRun a, StoredRun b, Tolerance tolerance, Progress progress) {
        List<String> common = a.fields().entrySet().stream()
                .filter(field -> field.getValue().equals(b.fields().get(field.getKey())))
                .map(Map.Entry::getKey)
                .toList();
        List<FieldDifference> differences = new ArrayList<>();
        try (Stage stage = progress.stage("comparing", common.size(), "fields");
                StoredFields inA = StoredFields.open(a.arrays(), a.grid());
                StoredFields inB = StoredFields.open(b.arrays(), b.grid())) {
            for (String field : common) {
                String unit = a.fields().getOrDefault(field, "1");
                differences.add(FieldDifference.of(
                        field, unit, inA.values(field), inB.values(field), tolerance.of(field, unit)));
                stage.advance(1);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e); // every array has been read before
        }
        return differences;
    }

    private static List<Change<StoredRun.Figure>> figures(StoredRun a, StoredRun b, Tolerance tolerance) {
        return Change.between(a.figures(), b.figures(), StoredRun.Figure::equals).stream()
                .filter(change -> !same(change, tolerance))
                .toList();
    }

    private static boolean same(Change<StoredRun.Figure> change, Tolerance tolerance) {
        StoredRun.Figure a = change.a();
        StoredRun.Figure b = change.b();
        return a != null
                && b != null
                && a.unit().equals(b.unit())
                && tolerance.of(change.key(), a.unit()).covers(a.value(), b.value());
    }

    private static boolean same(StoredFinding a, StoredFinding b, Tolerance tolerance) {
        return a.limit().unit().equals(b.limit().unit())
                && a.tiles() == b.tiles()
                && tolerance.of(a.limit().field(), a.limit().unit()).covers(a.found(), b.found());
    }

    private static boolean same(StoredWarning a, StoredWarning b, Tolerance tolerance) {
        if (!NUMBER.matcher(a.message())
                .replaceAll("#")
                .equals(NUMBER.matcher(b.message()).replaceAll("#"))) {
            return false;
        }
        Tolerance.Allowance allowance =
                new Tolerance.Allowance(0, tolerance.of("", "1").share());
        Matcher inA = NUMBER.matcher(a.message());
        Matcher inB = NUMBER.matcher(b.message());
        while (inA.find() && inB.find()) {
            if (!allowance.covers(Double.parseDouble(inA.group()), Double.parseDouble(inB.group()))) {
                return false;
            }
        }
        return true;
    }
}
