package org.evenstamp.output.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.unit.Unit;

/**
 * Writes {@code tiles.csv}: a row a tile, lowest row of tiles first, {@code column,row,x_um,y_um} of the tile's centre and
 * then a column a field. A tile without a value has an empty cell; all other cells of a field have a point or an exponent.
 */
public final class TilesCsv {
    private static final Unit MICROMETRE = Unit.parse("um");

    private TilesCsv() {}

    /** Writes the file. */
    public static void write(Path file, FieldSet fields) throws IOException {
        TileGrid grid = fields.grid();
        List<Field> columns = List.copyOf(fields.all());
        try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            StringBuilder line = new StringBuilder("column,row,x_um,y_um");
            columns.forEach(field -> line.append(',').append(field.name().id()));
            out.append(line.append('\n'));
            for (int i = 0; i < grid.size(); i++) {
                line.setLength(0);
                line.append(grid.column(i)).append(',').append(grid.row(i)).append(',');
                number(line, micrometres(grid, grid.centreXMetres(grid.column(i))));
                line.append(',');
                number(line, micrometres(grid, grid.centreYMetres(grid.row(i))));
                for (Field field : columns) {
                    line.append(',');
                    if (field.known(i)) {
                        number(line, field.name().unit().fromSi(field.at(i)));
                    }
                }
                out.append(line.append('\n'));
            }
        }
    }

    /** Appends a number that a reader does not take for a whole one, so that a column has one type whatever its values are. */
    static void number(StringBuilder line, double value) {
        int start = line.length();
        ShortDecimal.append(line, value);
        for (int i = start; i < line.length(); i++) {
            if (line.charAt(i) == '.' || line.charAt(i) == 'e' || line.charAt(i) == 'E') {
                return;
            }
        }
        line.append(".0");
    }

    /** A centre on an axis is 0, not what rounding leaves of it. */
    static double micrometres(TileGrid grid, double metres) {
        return Math.abs(metres) < 1e-9 * grid.pitchMetres() ? 0 : MICROMETRE.fromSi(metres);
    }
}
