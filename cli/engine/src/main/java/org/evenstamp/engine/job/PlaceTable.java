package org.evenstamp.engine.job;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * Reads a table of places: a text with a line of column names, {@code name_unit}, and then a line of numbers a place, separated by
 * commas, semicolons or tabs; lines that begin with # are passed over. One object reads one file and collects its problems.
 */
public final class PlaceTable {
    private static final Pattern NUMBER = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?");
    private static final int MOST_PROBLEMS = 20;
    private static final double MOST_PLACE = 10;
    private static final Column PASSED_OVER = Column.of("", "1");

    /** Place to the right. */
    public static final Column X = Column.of("x", "mm");

    /** Place upwards. */
    public static final Column Y = Column.of("y", "mm");

    private final Path file;
    private final String codes;
    private final Problems problems;
    private int found;

    /**
     * Makes a reader.
     *
     * @param codes what the codes of its problems begin with
     * @param problems takes what is wrong
     */
    public PlaceTable(Path file, String codes, Problems problems) {
        this.file = file;
        this.codes = codes;
        this.problems = problems;
    }

    /**
     * A column that a file may have.
     *
     * @param name its name
     * @param unit a unit it may have, and its unit in examples; the pure number for a count
     */
    public record Column(String name, Unit unit) {
        /** Makes a column of a unit's symbol. */
        public static Column of(String name, String unit) {
            return new Column(name, Unit.parse(unit));
        }

        boolean counts() {
            return unit.dimension().equals(Unit.Dimension.NONE);
        }

        String example() {
            return counts() ? name : name + "_" + unit.symbol();
        }
    }

    /** Rows of a file in SI, by column name. */
    @SuppressWarnings("ArrayRecordComponent") // private, never changed
    public record Rows(Map<String, double[]> columns, int[] lines) {
        /** Returns whether the file has a column. */
        public boolean has(Column column) {
            return columns.containsKey(column.name);
        }

        /** Returns the line of a row. */
        public int line(int row) {
            return lines[row];
        }

        /** Returns the numbers of a column, SI; none when the file lacks it. */
        public double[] get(Column column) {
            return columns.getOrDefault(column.name, new double[0]);
        }
    }

    /** Finds places that stand there twice. */
    public void findTwins(double[] x, double[] y, int[] lines) {
        record Spot(double x, double y) {}
        Map<Spot, Integer> seen = new HashMap<>();
        for (int i = 0; i < x.length; i++) {
            Integer before = seen.putIfAbsent(new Spot(x[i] + 0.0, y[i] + 0.0), lines[i]);
            if (before != null) {
                problem(
                        "twice",
                        lines[i],
                        "the point x = " + ValueReader.plain(X.unit.fromSi(x[i])) + " mm, y = "
                                + ValueReader.plain(Y.unit.fromSi(y[i])) + " mm stands on line " + before + " already",
                        "keep one of the two");
            }
        }
    }

    /** Returns this table with all that was found so far, to go on beside other problems. */
    PlaceTable beside(Problems others) {
        PlaceTable table = new PlaceTable(file, codes, others);
        table.found = found;
        return table;
    }

    /** Returns whether nothing was wrong so far. */
    boolean isRight() {
        return found == 0;
    }

    /**
     * Reads the file.
     *
     * @param musts columns that must be there
     * @param oneOf columns of which exactly one must be there, if there are any
     * @param may columns that may be there
     * @param others whether columns of other names may be there too; they are passed over
     * @return its rows; null when something is wrong
     */
    public @Nullable Rows rows(List<Column> musts, List<Column> oneOf, List<Column> may, boolean others) {
        List<Column> columns = new ArrayList<>();
        List<Unit> units = new ArrayList<>();
        List<double[]> numbers = new ArrayList<>();
        List<Integer> lines = new ArrayList<>();
        try (BufferedReader in = TextFile.open(file)) {
            String separator = null;
            int number = 0;
            for (String line = in.readLine(); line != null; line = in.readLine()) {
                number++;
                String text = number == 1 && line.startsWith("\ufeff") ? line.substring(1) : line;
                if (text.isBlank() || text.startsWith("#")) {
                    continue;
                }
                if (separator == null) {
                    separator = text.contains("\t") ? "\t" : text.contains(";") ? ";" : ",";
                    header(text.split(separator, -1), number, new Wanted(musts, oneOf, may, others), columns, units);
                    if (found > 0) {
                        ended();
                        return null;
                    }
                } else {
                    double[] row = row(text.split(separator, -1), number, columns, units);
                    if (row.length > 0) {
                        numbers.add(row);
                        lines.add(number);
                    }
                }
            }
        } catch (CharacterCodingException e) {
            problem("unreadable", 0, "it is no text in UTF-8", "save it as plain text");
            return null;
        } catch (IOException e) {
            problem(
                    "unreadable",
                    0,
                    "it cannot be read: "
                            + (e instanceof NoSuchFileException ? "there is no such file" : e.getMessage()),
                    "the name is relative to the job");
            return null;
        }
        if (numbers.isEmpty() && found == 0) {
            problem("empty", 0, "there are no points in it", example(musts, oneOf));
        }
        if (numbers.isEmpty()) {
            ended();
            return null;
        }
        Map<String, double[]> byName = new HashMap<>();
        for (int c = 0; c < columns.size(); c++) {
            int column = c;
            byName.put(
                    columns.get(c).name,
                    numbers.stream().mapToDouble(row -> row[column]).toArray());
        }
        return new Rows(byName, lines.stream().mapToInt(Integer::intValue).toArray());
    }

    private static String example(List<Column> musts, List<Column> oneOf) {
        String required = musts.stream().map(Column::example).collect(Collectors.joining(","));
        return "the first line is "
                + (oneOf.isEmpty()
                        ? required
                        : oneOf.stream()
                                .map(last -> required + "," + last.example())
                                .collect(Collectors.joining(" or ")))
                + ", in these units or others";
    }

    /** Which columns are wanted. */
    private record Wanted(List<Column> musts, List<Column> oneOf, List<Column> may, boolean others) {}

    private void header(String[] names, int line, Wanted wanted, List<Column> columns, List<Unit> units) {
        List<Column> musts = wanted.musts;
        List<Column> oneOf = wanted.oneOf;
        List<Column> known = new ArrayList<>(musts);
        known.addAll(oneOf);
        known.addAll(wanted.may);
        String fix = example(musts, oneOf);
        for (String raw : names) {
            String text = raw.strip();
            int bar = text.indexOf('_');
            String name = bar < 0 ? text : text.substring(0, bar);
            Optional<Column> column =
                    known.stream().filter(one -> one.name.equals(name)).findFirst();
            if (column.isEmpty() && wanted.others) {
                columns.add(PASSED_OVER);
                units.add(Unit.ONE);
                continue;
            }
            if (column.isEmpty()) {
                problem("column", line, "there is no column \"" + text + "\"", fix);
                continue;
            }
            if (columns.contains(column.get())) {
                problem("column", line, "the column " + name + " stands there twice", fix);
            }
            columns.add(column.get());
            units.add(unit(text, bar, column.get(), line));
        }
        for (Column must : musts) {
            if (!columns.contains(must)) {
                problem("column", line, "the column " + must.example() + " is missing", fix);
            }
        }
        if (!oneOf.isEmpty() && columns.stream().filter(oneOf::contains).count() != 1) {
            problem(
                    "column",
                    line,
                    "there must be one of the columns "
                            + oneOf.stream().map(Column::example).collect(Collectors.joining(" and ")),
                    fix);
        }
    }

    private Unit unit(String text, int bar, Column column, int line) {
        if (bar < 0) {
            if (!column.counts()) {
                problem(
                        "unit",
                        line,
                        "the column " + text + " has no unit",
                        "write " + column.example() + " if that is the unit meant");
            }
            return column.unit;
        }
        try {
            Unit unit = Unit.parse(text.substring(bar + 1));
            if (!unit.dimension().equals(column.unit.dimension()) || column.counts()) {
                throw new UnitException("\"" + unit.symbol() + "\" does not fit");
            }
            return unit;
        } catch (UnitException e) {
            problem("unit", line, "the column " + text + ": " + e.getMessage(), "such as " + column.example());
            return column.unit;
        }
    }

    /** Returns the numbers of a line in SI, nothing when one is wrong. */
    private double[] row(String[] cells, int line, List<Column> columns, List<Unit> units) {
        if (cells.length != columns.size()) {
            problem(
                    "line",
                    line,
                    "there are " + cells.length + " values, not " + columns.size(),
                    "a value for each of " + columns.stream().map(Column::name).collect(Collectors.joining(", ")));
            return new double[0];
        }
        double[] row = new double[cells.length];
        boolean right = true;
        for (int c = 0; c < cells.length; c++) {
            String text = cells[c].strip();
            Column column = columns.get(c);
            row[c] = NUMBER.matcher(text).matches() ? units.get(c).toSi(Double.parseDouble(text)) : Double.NaN;
            if (column.equals(PASSED_OVER)) {
                row[c] = 0;
                continue;
            }
            boolean place = column.equals(X) || column.equals(Y);
            if (!Double.isFinite(row[c])) {
                problem("number", line, column.name + " is \"" + text + "\", no number", "write it like 12.5");
                right = false;
            } else if (place && Math.abs(row[c]) > MOST_PLACE) {
                problem(
                        "number",
                        line,
                        column.name + " is " + text + " " + units.get(c).symbol() + ", more than 10 m from the origin",
                        "look at the unit in the first line");
                right = false;
            }
        }
        return right ? row : new double[0];
    }

    /** Adds a problem of a line; of the file as a whole for line 0. */
    public void problem(String code, int line, String message, String fix) {
        found++;
        if (found <= MOST_PROBLEMS) {
            problems.add(codes + code, new Source(file.toString(), line, 0), message, fix);
        }
    }

    /** Returns whether something was wrong; says how much was left unsaid. */
    public boolean ended() {
        if (found > MOST_PROBLEMS) {
            problems.add(codes + "more", file.toString(), (found - MOST_PROBLEMS) + " more problems like these", "");
        }
        return found > 0;
    }
}
