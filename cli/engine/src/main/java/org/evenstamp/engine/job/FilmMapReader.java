package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.engine.job.PlaceTable.Column;
import org.evenstamp.engine.job.PlaceTable.Rows;
import org.evenstamp.geometry.scatter.PointValues;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * Reads the files of a film, or a lamp, that differs from place to place.
 *
 * <p>Lines of numbers with commas, semicolons or tabs between them, below a line with the name and the unit of each column, such
 * as {@code x_mm,y_mm,thickness_nm}; blank lines and lines that begin with {@code #} do not count. Places are those of the
 * layout.
 */
final class FilmMapReader {
    private static final double LEAST_FILM = 2e-9; // thinner than the chains of any film, or written in um
    private static final double MOST_FILM = 1e-4;
    private static final double LEAST_LIGHT = 1e-2; // W/m²; less would take a day for the least of doses
    private static final double MOST_LIGHT = 1e7;

    private FilmMapReader() {}

    private static final Column X = PlaceTable.X;
    private static final Column Y = PlaceTable.Y;
    private static final Column THICKNESS = Column.of("thickness", "nm");
    private static final Column IRRADIANCE = Column.of("irradiance", "mW/cm^2");
    private static final Column DROPS = Column.of("drops", "1");
    private static final Column VOLUME = Column.of("volume", "pL");

    /** Reads points of measured thickness; adds to the problems and returns null when something is wrong. */
    static FilmMap.@Nullable Measured thickness(Path file, String asWritten, Problems problems) {
        PlaceTable reader = new PlaceTable(file, "film.map-", problems);
        Rows rows = reader.rows(List.of(X, Y, THICKNESS), List.of(), List.of(), false);
        if (rows == null) {
            return null;
        }
        double[] film = rows.get(THICKNESS);
        for (int i = 0; i < film.length; i++) {
            if (!(film[i] >= LEAST_FILM && film[i] <= MOST_FILM)) {
                reader.problem(
                        "thickness",
                        rows.line(i),
                        "a thickness of " + nanometres(film[i]) + " is not that of a film",
                        "2 nm to 100 um: look at the unit in the first line; leave out places that were not measured");
            }
        }
        Optional<PointValues> points = points(reader, rows, film, "film.thickness for an even film");
        return points.isEmpty()
                ? null
                : new FilmMap.Measured(
                        file,
                        asWritten,
                        points.get(),
                        Arrays.stream(film).average().orElseThrow());
    }

    /** Reads points of a lamp's measured light; adds to the problems and returns null when something is wrong. */
    static @Nullable LampMap lamp(Path file, String asWritten, Problems problems) {
        PlaceTable reader = new PlaceTable(file, "process.lamp-map-", problems);
        Rows rows = reader.rows(List.of(X, Y, IRRADIANCE), List.of(), List.of(), false);
        if (rows == null) {
            return null;
        }
        double[] light = rows.get(IRRADIANCE);
        for (int i = 0; i < light.length; i++) {
            if (!(light[i] >= LEAST_LIGHT && light[i] <= MOST_LIGHT)) {
                reader.problem(
                        "irradiance",
                        rows.line(i),
                        "an irradiance of "
                                + ValueReader.plain(IRRADIANCE.unit().fromSi(light[i]))
                                + " mW/cm^2 is not that of a lamp",
                        "0.001 to 1e6 mW/cm^2: look at the unit in the first line; leave out places that were not measured");
            }
        }
        Optional<PointValues> points = points(reader, rows, light, "process.irradiance for an even lamp");
        return points.isEmpty()
                ? null
                : new LampMap(
                        file,
                        asWritten,
                        points.get(),
                        Arrays.stream(light).average().orElseThrow());
    }

    /** Makes a surface of measured points; empty when something is wrong, which the table tells. */
    private static Optional<PointValues> points(PlaceTable reader, Rows rows, double[] values, String instead) {
        double[] x = rows.get(X);
        double[] y = rows.get(Y);
        reader.findTwins(x, y, rows.lines());
        if (reader.isRight() && x.length > PointValues.MOST_SCATTERED && !PointValues.onCrossings(x, y)) {
            reader.problem(
                    "many",
                    0,
                    x.length + " scattered points are too many, at most " + PointValues.MOST_SCATTERED,
                    "thin them out, or measure on columns and rows");
        }
        if (reader.ended()) {
            return Optional.empty();
        }
        Optional<PointValues> points = PointValues.of(x, y, values);
        if (points.isEmpty()) {
            reader.problem(
                    "area",
                    0,
                    "its " + x.length + " points span no area, or some are too close to be told apart",
                    "give three points at least that are not on a line and not a rounding apart, or " + instead);
        }
        return points;
    }

    /**
     * A file of drops, whatever a drop is made of.
     *
     * @param file the file
     * @param asRead its table, which knows how much was wrong
     * @param rows null when there are none to be had
     * @param problems what was wrong
     */
    record DropFile(Path file, PlaceTable asRead, @Nullable Rows rows, List<Problem> problems) {}

    /** Reads a file of drops. */
    static DropFile readDrops(Path file) {
        Problems problems = new Problems();
        PlaceTable table = new PlaceTable(file, "film.map-", problems);
        Rows rows = table.rows(List.of(X, Y), List.of(DROPS, VOLUME), List.of(), false);
        return new DropFile(file, table, rows, problems.all());
    }

    /**
     * Makes a film of drops; adds to the problems and returns null when something is wrong.
     *
     * @param dropCubicMetres volume of one drop as dispensed, for a file that counts drops
     * @param evaporation share of the volume that is lost
     */
    static FilmMap.@Nullable Dispensed drops(
            DropFile read, String asWritten, OptionalDouble dropCubicMetres, double evaporation, Problems problems) {
        read.problems.forEach(problems::add);
        PlaceTable reader = read.asRead.beside(problems);
        Rows rows = read.rows;
        if (rows == null) {
            return null;
        }
        boolean counted = rows.has(DROPS);
        double[] amount = rows.get(counted ? DROPS : VOLUME);
        double one = counted ? dropCubicMetres.orElse(0) : 1;
        if (counted && dropCubicMetres.isEmpty()) {
            reader.problem(
                    "volume",
                    0,
                    "it counts drops, and the job does not say how large a drop is",
                    "set drops.volume, such as \"1 pL\", or give a column volume_pL instead of drops");
        }
        double[] left = new double[amount.length];
        for (int i = 0; i < amount.length; i++) {
            if (!(amount[i] > 0) || (counted && amount[i] != Math.rint(amount[i]))) {
                reader.problem(
                        "drop",
                        rows.line(i),
                        counted
                                ? ValueReader.plain(amount[i]) + " drops are not possible"
                                : "a volume of "
                                        + ValueReader.plain(VOLUME.unit().fromSi(amount[i]))
                                        + " pL is not that of a drop",
                        counted ? "a whole number from 1 on" : "more than 0 pL; leave out places without drop");
            }
            left[i] = amount[i] * one * (1 - evaporation);
        }
        return reader.ended()
                ? null
                : new FilmMap.Dispensed(read.file, asWritten, rows.get(X), rows.get(Y), left, rows.lines());
    }

    private static String nanometres(double metres) {
        return ValueReader.plain(THICKNESS.unit().fromSi(metres)) + " nm";
    }
}
