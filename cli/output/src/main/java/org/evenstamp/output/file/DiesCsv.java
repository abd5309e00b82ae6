package org.evenstamp.output.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.evenstamp.engine.result.AreaStatistics;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Writes {@code dies.csv} of a layout that is stepped over the stamp: a row a die, lowest row first, with its name, where the
 * middle of its rectangle lies, how far it is turned, the share of it that lies on the stamp, and for every field its smallest
 * value, mean, largest value and three standard deviations over that share, in the field's display unit. Empty cells where a field
 * has no value in the die.
 */
public final class DiesCsv {
    private DiesCsv() {}

    /** Writes the file. */
    public static void write(Path file, Results results) throws IOException {
        List<Field> fields = List.copyOf(results.fields().all());
        MapOptions.Outline stamp = results.map().outline();
        TileGrid grid = results.fields().grid();
        try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            StringBuilder line = new StringBuilder("die,column,row,x_um,y_um,turn_deg,on_stamp");
            for (Field field : fields) {
                for (String what : List.of("min", "mean", "max", "sigma3")) {
                    line.append(',').append(field.name().id()).append('.').append(what);
                }
            }
            out.append(line.append('\n'));
            for (Die die : results.map().dies()) {
                line.setLength(0);
                MapOptions.Outline its = die.rectangle();
                line.append('"').append(die.name()).append("\",");
                line.append(die.column()).append(',').append(die.row()).append(',');
                TilesCsv.number(line, TilesCsv.micrometres(grid, (its.minX() + its.maxX()) / 2));
                TilesCsv.number(line.append(','), TilesCsv.micrometres(grid, (its.minY() + its.maxY()) / 2));
                line.append(',').append(90 * die.pose().quarterTurns()).append(',');
                TilesCsv.number(line, die.shareOn(stamp));
                for (Field field : fields) {
                    statistics(line, AreaStatistics.of(field, die, stamp));
                }
                out.append(line.append('\n'));
            }
        }
    }

    private static void statistics(StringBuilder line, Optional<AreaStatistics> found) {
        if (found.isEmpty()) {
            line.append(",,,,");
            return;
        }
        AreaStatistics one = found.get();
        TilesCsv.number(line.append(','), one.min());
        TilesCsv.number(line.append(','), one.mean());
        TilesCsv.number(line.append(','), one.max());
        TilesCsv.number(line.append(','), one.sigma3());
    }
}
