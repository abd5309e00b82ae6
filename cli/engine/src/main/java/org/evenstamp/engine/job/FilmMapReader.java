package org.evenstamp.engine.job;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.evenstamp.geometry.scatter.PointValues;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;
import org.jspecify.annotations.Nullable;

/**
 * Reads the files of a film that differs from place to place.
 *
 * <p>Lines of numbers with commas, semicolons or tabs between them, below a line with the name and the unit of each column, such
 * as {@code x_mm,y_mm,thickness_nm}; blank lines and lines that begin with {@code #} do not count. Places are those of the
 * layout.
 */
final class FilmMapReader {
    private static final Pattern NUMBER = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?");
    private static final int MOST_PROBLEMS = 20;
    private static final double LEAST_FILM = 1e-10;
    private static final double MOST_FILM = 1e-3;
    private static final double MOST_PLACE = 10;

    private final Path file;
    private final Problems problems;
    private int found;

    private FilmMapReader(Path file, Problems problems) {
        this.file = file;
        this.problems = problems;
    }

    /**
     * A column that a file may have.
     *
     * @param name its name
     * @param unit a unit it may have, and its unit in examples; the pure number for a count
     */
    private record Column(String name, Unit unit) {
        static Column of(String name, String unit) {
            return new Column(name, Unit.parse(unit));
        }

        boolean counts() {
            return unit.dimension().equals(Unit.Dimension.NONE);
        }

        String example() {
            return counts() ? name : name + "_" + unit.symbol();
        }
    }

    private static final Column X = Column.of("x", "mm");
    private static final Column Y = Column.of("y", "mm");
    private static final Column THICKNESS = Column.of("thickness", "nm");
    private static final Column DROPS = Column.of("drops", "1");
    private static final Column VOLUME = Column.of("volume", "pL");

    /** Rows of a file in SI, by column name. */
    @SuppressWarnings("ArrayRecordComponent") // private, never changed
    private record Rows(Map<String, double[]> columns, int[] lines) {
        double[] get(Column column) {
            return columns.getOrDefault(column.name, new double[0]);
        }
    }

    /** Reads points of measured thickness; adds to the problems and returns null when something is wrong. */
    static FilmMap.@Nullable Measured thickness(Path file, String asWritten, Problems problems) {
        FilmMapReader reader = new FilmMapReader(file, problems);
        Rows rows = reader.rows(List.of(X, Y, THICKNESS), List.of());
        if (rows == null) {
            return null;
        }
        double[] film = rows.get(THICKNESS);
        for (int i = 0; i < film.length; i++) {
            if (!(film[i] >= LEAST_FILM && film[i] <= MOST_FILM)) {
                reader.problem(
                        "film.map-thickness",
                        rows.lines[i],
                        "a thickness of " + nanometres(film[i]) + " is not that of a film",
                        "0.1 nm to 1 mm; leave out places that were not measured");
            }
        }
        double[] x = rows.get(X);
        double[] y = rows.get(Y);
        reader.findTwins(x, y, rows.lines);
        if (reader.found == 0 && x.length > PointValues.MOST_SCATTERED && !PointValues.onCrossings(x, y)) {
            reader.problem(
                    "film.map-many",
                    0,
                    x.length + " scattered points are too many, at most " + PointValues.MOST_SCATTERED,
                    "thin them out, or measure on columns and rows");
        }
        if (reader.ended()) {
            return null;
        }
        Optional<PointValues> points = PointValues.of(x, y, film);
        if (points.isEmpty()) {
            reader.problem(
                    "film.map-area",
                    0,
                    "its " + x.length + " points span no area",
                    "give three points at least that are not on a line, or film.thickness for an even film");
            return null;
        }
        return new FilmMap.Measured(
                file, asWritten, points.get(), Arrays.stream(film).average().orElseThrow());
    }

    /**
     * Reads drops; adds to the problems and returns null when something is wrong.
     *
     * @param dropCubicMetres volume of one drop as dispensed, for a file that counts drops
     * @param evaporation share of the volume that is lost
     */
    static FilmMap.@Nullable Dispensed drops(
            Path file, String asWritten, OptionalDouble dropCubicMetres, double evaporation, Problems problems) {
        FilmMapReader reader = new FilmMapReader(file, problems);
        Rows rows = reader.rows(List.of(X, Y), List.of(DROPS, VOLUME));
        if (rows == null) {
            return null;
        }
        boolean counted = rows.columns.containsKey(DROPS.name);
        double[] amount = rows.get(counted ? DROPS : VOLUME);
        double one = counted ? dropCubicMetres.orElse(0) : 1;
        if (counted && dropCubicMetres.isEmpty()) {
            reader.problem(
                    "film.map-volume",
                    0,
                    "it counts drops, and the job does not say how large a drop is",
                    "set drops.volume, such as \"1 pL\", or give a column volume_pL instead of drops");
        }
        double[] left = new double[amount.length];
        for (int i = 0; i < amount.length; i++) {
            if (!(amount[i] > 0) || (counted && amount[i] != Math.rint(amount[i]))) {
                reader.problem(
                        "film.map-drop",
                        rows.lines[i],
                        counted
                                ? ValueReader.plain(amount[i]) + " drops are not possible"
                                : "a volume of " + ValueReader.plain(VOLUME.unit.fromSi(amount[i]))
                                        + " pL is not that of a drop",
                        counted ? "a whole number from 1 on" : "more than 0 pL; leave out places without drop");
            }
            left[i] = amount[i] * one * (1 - evaporation);
        }
        return reader.ended()
                ? null
                : new FilmMap.Dispensed(file, asWritten, rows.get(X), rows.get(Y), left, rows.lines);
    }

    private void findTwins(double[] x, double[] y, int[] lines) {
        record Spot(double x, double y) {}
        Map<Spot, Integer> seen = new HashMap<>();
        for (int i = 0; i < x.length; i++) {
            Integer before = seen.putIfAbsent(new Spot(x[i] + 0.0, y[i] + 0.0), lines[i]);
            if (before != null) {
                problem(
                        "film.map-twice",
                        lines[i],
                        "the point x = " + ValueReader.plain(X.unit.fromSi(x[i])) + " mm, y = "
                                + ValueReader.plain(Y.unit.fromSi(y[i])) + " mm stands on line " + before + " already",
                        "keep one of the two");
            }
        }
    }

    private @Nullable Rows rows(List<Column> musts, List<Column> oneOf) {
        List<Column> columns = new ArrayList<>();
        List<Unit> units = new ArrayList<>();
        List<double[]> numbers = new ArrayList<>();
        List<Integer> lines = new ArrayList<>();
        try (BufferedReader in = Files.newBufferedReader(file)) {
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
                    header(text.split(separator, -1), number, musts, oneOf, columns, units);
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
            problem("film.map-unreadable", 0, "it is no text in UTF-8", "save it as plain text");
            return null;
        } catch (IOException e) {
            problem(
                    "film.map-unreadable",
                    0,
                    "it cannot be read: "
                            + (e instanceof NoSuchFileException ? "there is no such file" : e.getMessage()),
                    "the name is relative to the job");
            return null;
        }
        if (numbers.isEmpty() && found == 0) {
            problem("film.map-empty", 0, "there are no points in it", example(musts, oneOf));
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

    private void header(
            String[] names, int line, List<Column> musts, List<Column> oneOf, List<Column> columns, List<Unit> units) {
        List<Column> known = new ArrayList<>(musts);
        known.addAll(oneOf);
        String fix = example(musts, oneOf);
        for (String raw : names) {
            String text = raw.strip();
            int bar = text.indexOf('_');
            String name = bar < 0 ? text : text.substring(0, bar);
            Optional<Column> column =
                    known.stream().filter(one -> one.name.equals(name)).findFirst();
            if (column.isEmpty()) {
                problem("film.map-column", line, "there is no column \"" + text + "\"", fix);
                continue;
            }
            if (columns.contains(column.get())) {
                problem("film.map-column", line, "the column " + name + " stands there twice", fix);
            }
            columns.add(column.get());
            units.add(unit(text, bar, column.get(), line));
        }
        for (Column must : musts) {
            if (!columns.contains(must)) {
                problem("film.map-column", line, "the column " + must.example() + " is missing", fix);
            }
        }
        if (!oneOf.isEmpty() && columns.stream().filter(oneOf::contains).count() != 1) {
            problem(
                    "film.map-column",
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
                        "film.map-unit",
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
            problem("film.map-unit", line, "the column " + text + ": " + e.getMessage(), "such as " + column.example());
            return column.unit;
        }
    }

    /** Returns the numbers of a line in SI, nothing when one is wrong. */
    private double[] row(String[] cells, int line, List<Column> columns, List<Unit> units) {
        if (cells.length != columns.size()) {
            problem(
                    "film.map-line",
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
            boolean place = column.equals(X) || column.equals(Y);
            if (!Double.isFinite(row[c])) {
                problem("film.map-number", line, column.name + " is \"" + text + "\", no number", "write it like 12.5");
                right = false;
            } else if (place && Math.abs(row[c]) > MOST_PLACE) {
                problem(
                        "film.map-number",
                        line,
                        column.name + " is " + text + " " + units.get(c).symbol() + ", more than 10 m from the origin",
                        "look at the unit in the first line");
                right = false;
            }
        }
        return right ? row : new double[0];
    }

    private static String nanometres(double metres) {
        return ValueReader.plain(THICKNESS.unit.fromSi(metres)) + " nm";
    }

    private void problem(String code, int line, String message, String fix) {
        found++;
        if (found <= MOST_PROBLEMS) {
            problems.add(code, line == 0 ? file.toString() : file + ":" + line, message, fix);
        }
    }

    /** Returns whether something was wrong; says how much was left unsaid. */
    private boolean ended() {
        if (found > MOST_PROBLEMS) {
            problems.add("film.map-more", file.toString(), (found - MOST_PROBLEMS) + " more problems like these", "");
        }
        return found > 0;
    }
}
