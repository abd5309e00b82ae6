package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.engine.job.PlaceTable.Column;
import org.evenstamp.engine.job.PlaceTable.Rows;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * Reads a table of tiles: a line a tile with the place of its centre, the share of it that is cavity, how deep that is or how much
 * volume it has, and if it is known the squeeze moment of its land or the width of its lands. The tiles are squares without a gap.
 */
final class TileTableReader {
    private static final Column FRACTION = Column.of("fraction", "1");
    private static final Column DEPTH = Column.of("depth", "nm");
    private static final Column VOLUME = Column.of("volume", "nm");
    private static final Column MOMENT = Column.of("moment", "um^2");
    private static final Column LAND = Column.of("land", "um");
    /** Centres may be this share of a tile's side beside their places. */
    private static final double SLACK = 1e-3;

    private static final double MOST_METRES = 1e-3; // of depths and volumes over area
    private static final double MOST_LAND = 0.1;
    private static final int MOST_TILES = 16_000_000;

    private final PlaceTable table;
    private final Rows rows;

    private TileTableReader(PlaceTable table, Rows rows) {
        this.table = table;
        this.rows = rows;
    }

    /**
     * Reads a file; adds to the problems and returns null when something is wrong.
     *
     * @param depthMetres depth of the cavities where the file says neither depths nor volumes; null when nobody says it
     */
    static @Nullable TileTable read(Path file, String asWritten, @Nullable Double depthMetres, Problems problems) {
        PlaceTable table = new PlaceTable(file, "layout.table-", problems);
        Rows rows = file.toString().endsWith(".npz")
                ? TileArrays.rows(file, table, List.of(FRACTION, DEPTH, VOLUME, MOMENT, LAND))
                : table.rows(
                        List.of(PlaceTable.X, PlaceTable.Y, FRACTION),
                        List.of(),
                        List.of(DEPTH, VOLUME, MOMENT, LAND),
                        false);
        if (rows == null) {
            return null;
        }
        TileTableReader reader = new TileTableReader(table, rows);
        reader.checkNumbers();
        TileGrid grid = table.isRight() ? reader.grid() : null;
        if (table.ended() || grid == null) {
            return null;
        }
        return new TileTable(file, asWritten, grid, reader.fields(grid, depthMetres == null ? 0 : depthMetres));
    }

    private void checkNumbers() {
        if (rows.has(DEPTH) && rows.has(VOLUME)) {
            table.problem(
                    "column", 1, "there are depth and volume, and each follows from the other", "keep one of the two");
        }
        if (rows.has(MOMENT) && rows.has(LAND)) {
            table.problem("column", 1, "there are moment and land, and either is enough", "keep one of the two");
        }
        double[] fraction = rows.get(FRACTION);
        for (int i = 0; i < fraction.length; i++) {
            if (!(fraction[i] >= 0 && fraction[i] <= 1)) {
                table.problem("fraction", rows.line(i), "a fraction of " + ValueReader.plain(fraction[i]), "0 to 1");
            }
            between(
                    DEPTH,
                    i,
                    fraction[i] > 0 ? Double.MIN_NORMAL : 0,
                    MOST_METRES,
                    "more than 0 where there are cavities");
            between(
                    VOLUME,
                    i,
                    fraction[i] > 0 ? Double.MIN_NORMAL : 0,
                    MOST_METRES,
                    "more than 0 where there are cavities");
            between(MOMENT, i, 0, MOST_LAND * MOST_LAND, "0 or more");
            between(LAND, i, 0, MOST_LAND, "0 or more");
        }
    }

    private void between(Column column, int row, double least, double most, String fix) {
        if (rows.has(column)) {
            double value = rows.get(column)[row];
            if (!(value >= least && value <= most)) {
                table.problem(
                        column.name(),
                        rows.line(row),
                        "a " + column.name() + " of "
                                + ValueReader.plain(column.unit().fromSi(value)) + " "
                                + column.unit().symbol(),
                        fix + "; look at the unit in the first line");
            }
        }
    }

    private @Nullable TileGrid grid() {
        double[] x = rows.get(PlaceTable.X);
        double[] y = rows.get(PlaceTable.Y);
        table.findTwins(x, y, rows.lines());
        double side = Math.min(step(x), step(y));
        if (!(side < Double.POSITIVE_INFINITY)) {
            table.problem("tiles", 0, "there is one tile only", "give a tile a line");
            return null;
        }
        double left = Arrays.stream(x).min().orElseThrow();
        double low = Arrays.stream(y).min().orElseThrow();
        double columns = Math.rint((Arrays.stream(x).max().orElseThrow() - left) / side) + 1;
        double lines = Math.rint((Arrays.stream(y).max().orElseThrow() - low) / side) + 1;
        if (columns * lines > MOST_TILES) {
            table.problem(
                    "tiles",
                    0,
                    String.format(
                            Locale.ROOT, "its tiles of %s um would be %.0f x %.0f", micrometres(side), columns, lines),
                    "are the centres on columns and rows at one distance?");
            return null;
        }
        TileGrid grid = new TileGrid(left - side / 2, low - side / 2, side, (int) columns, (int) lines);
        boolean[] there = new boolean[grid.size()];
        for (int i = 0; i < x.length; i++) {
            double column = (x[i] - left) / side;
            double line = (y[i] - low) / side;
            if (Math.abs(column - Math.rint(column)) > SLACK || Math.abs(line - Math.rint(line)) > SLACK) {
                table.problem(
                        "raster",
                        rows.line(i),
                        String.format(
                                Locale.ROOT,
                                "x = %s um, y = %s um is no centre of a square tile of %s um beside the others",
                                micrometres(x[i]),
                                micrometres(y[i]),
                                micrometres(side)),
                        "centres lie on columns and rows at one distance");
            } else {
                there[grid.index((int) Math.rint(column), (int) Math.rint(line))] = true;
            }
        }
        if (table.isRight()) {
            findHoles(grid, there);
        }
        return grid;
    }

    private void findHoles(TileGrid grid, boolean[] there) {
        int missing = 0;
        int first = -1;
        for (int tile = 0; tile < there.length; tile++) {
            if (!there[tile]) {
                missing++;
                first = first < 0 ? tile : first;
            }
        }
        if (missing > 0) {
            table.problem(
                    "holes",
                    0,
                    String.format(
                            Locale.ROOT,
                            "%d of %d x %d tiles are missing, such as x = %s um, y = %s um",
                            missing,
                            grid.columns(),
                            grid.rows(),
                            micrometres(grid.centreXMetres(grid.column(first))),
                            micrometres(grid.centreYMetres(grid.row(first)))),
                    "land without cavities has a fraction of 0, and is a tile like others");
        }
    }

    /** The usual distance between neighbouring places along an axis; infinite for one place. */
    private static double step(double[] places) {
        double[] sorted = places.clone();
        Arrays.sort(sorted);
        double[] steps = new double[sorted.length - 1];
        Arrays.setAll(steps, i -> sorted[i + 1] - sorted[i]);
        double most = Arrays.stream(steps).max().orElse(0);
        double[] between = Arrays.stream(steps)
                .filter(step -> step > 0.01 * most) // the others are rounding within a column
                .sorted()
                .toArray();
        if (between.length == 0) {
            return Double.POSITIVE_INFINITY;
        }
        // A distance alone would carry the rounding of its two numbers along.
        double usual = between[between.length / 2];
        return Arrays.stream(between)
                .filter(step -> Math.abs(step - usual) <= SLACK * usual)
                .average()
                .orElse(usual);
    }

    private static String micrometres(double metres) {
        return ValueReader.plain(Math.rint(metres * 1e9) / 1e3);
    }

    private List<Field> fields(TileGrid grid, double depth) {
        int size = grid.size();
        double[] fraction = new double[size];
        double[] volume = new double[size];
        double[] deep = new double[size];
        double[] moment = new double[size];
        double[] x = rows.get(PlaceTable.X);
        double[] y = rows.get(PlaceTable.Y);
        for (int i = 0; i < x.length; i++) {
            int tile = grid.index((int) Math.floor((x[i] - grid.originXMetres()) / grid.pitchMetres()), (int)
                    Math.floor((y[i] - grid.originYMetres()) / grid.pitchMetres()));
            double share = rows.get(FRACTION)[i];
            fraction[tile] = share;
            double its = rows.has(DEPTH) ? rows.get(DEPTH)[i] : depth;
            volume[tile] = share == 0 ? 0 : rows.has(VOLUME) ? rows.get(VOLUME)[i] : share * its;
            deep[tile] = share > 0 ? its : Double.NaN;
            moment[tile] = rows.has(MOMENT)
                    ? rows.get(MOMENT)[i]
                    : rows.has(LAND) ? (1 - share) * rows.get(LAND)[i] * rows.get(LAND)[i] : 0;
        }
        List<Field> fields = new ArrayList<>();
        add(fields, TileFields.CAVITY_FRACTION, grid, fraction);
        add(fields, TileFields.CAVITY_VOLUME, grid, volume);
        if (!rows.has(VOLUME)) {
            add(fields, TileFields.CAVITY_DEPTH_MIN, grid, deep);
            add(fields, TileFields.CAVITY_DEPTH_MAX, grid, deep);
        }
        if (rows.has(MOMENT) || rows.has(LAND)) {
            add(fields, TileFields.SQUEEZE_MOMENT, grid, moment);
        }
        return fields;
    }

    private static void add(List<Field> fields, FieldName name, TileGrid grid, double[] values) {
        fields.add(Field.of(name, grid, values));
    }
}
