package org.evenstamp.output.file;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenstamp.engine.job.LengthUnit;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;

/**
 * Writes {@code tiles.geojson}: a square polygon a tile, lowest row first, with the columns of {@code tiles.csv} as properties;
 * {@code null} where a field has no value.
 *
 * <p>Coordinates are those of the layout in the job's own {@code layout.unit}, or in micrometres where the job leaves the unit
 * to the layout file; the foreign member {@code units} says which, as in layouts, and {@code field_units} the unit of each
 * property. The form is RFC 7946, but for its section 4: the plane of the stamp is no place on Earth.
 */
public final class TilesGeoJson {
    private TilesGeoJson() {}

    /**
     * Writes the file.
     *
     * @param stage counts rows of tiles
     */
    public static void write(Path file, Results results, Stage stage) throws IOException {
        String unit = results.layoutUnit();
        double metres = LengthUnit.metres(unit);
        TileGrid grid = results.fields().grid();
        List<Field> columns = List.copyOf(results.fields().all());
        List<String> keys = new ArrayList<>();
        columns.forEach(field -> keys.add("," + quoted(field.name().id()) + ":"));
        try (OutputStream bytes = Files.newOutputStream(file); // a writer on a full disk leaves it open
                BufferedWriter out = new BufferedWriter(
                        new OutputStreamWriter(bytes, StandardCharsets.UTF_8))) { // takes half characters
            StringBuilder line = new StringBuilder("{\"type\":\"FeatureCollection\",\"units\":")
                    .append(quoted(unit))
                    .append(",\"field_units\":{\"x_um\":\"um\",\"y_um\":\"um\"");
            for (int k = 0; k < columns.size(); k++) {
                line.append(keys.get(k))
                        .append(quoted(columns.get(k).name().unit().symbol()));
            }
            out.append(line.append("},\"features\":[\n"));
            for (int i = 0; i < grid.size(); i++) {
                line.setLength(0);
                line.append("{\"type\":\"Feature\",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[");
                square(line, grid, grid.column(i), grid.row(i), metres);
                line.append("]]},\"properties\":{\"column\":")
                        .append(grid.column(i))
                        .append(",\"row\":")
                        .append(grid.row(i))
                        .append(",\"x_um\":");
                ShortDecimal.append(line, TilesCsv.micrometres(grid, grid.centreXMetres(grid.column(i))));
                line.append(",\"y_um\":");
                ShortDecimal.append(line, TilesCsv.micrometres(grid, grid.centreYMetres(grid.row(i))));
                for (int k = 0; k < columns.size(); k++) {
                    Field field = columns.get(k);
                    line.append(keys.get(k));
                    if (field.known(i)) {
                        ShortDecimal.append(line, field.name().unit().fromSi(field.at(i)));
                    } else {
                        line.append("null");
                    }
                }
                out.append(line.append(i + 1 < grid.size() ? "}},\n" : "}}\n"));
                if (grid.column(i) == grid.columns() - 1) {
                    stage.advance(1);
                }
            }
            out.append("]}\n");
        }
    }

    private static String quoted(String text) {
        return '"' + new String(JsonStringEncoder.getInstance().quoteAsString(text)) + '"';
    }

    /** Appends the ring of a tile, anticlockwise; neighbours have the same numbers at the corners they share. */
    private static void square(StringBuilder line, TileGrid grid, int column, int row, double metres) {
        corner(line, grid, column, row, metres);
        corner(line.append(','), grid, column + 1, row, metres);
        corner(line.append(','), grid, column + 1, row + 1, metres);
        corner(line.append(','), grid, column, row + 1, metres);
        corner(line.append(','), grid, column, row, metres);
    }

    private static void corner(StringBuilder line, TileGrid grid, int column, int row, double metres) {
        line.append('[');
        coordinate(line, grid.originXMetres() + column * grid.pitchMetres(), grid, metres);
        line.append(',');
        coordinate(line, grid.originYMetres() + row * grid.pitchMetres(), grid, metres);
        line.append(']');
    }

    /** Appends a coordinate; one on an axis is 0, not what rounding leaves of it. */
    private static void coordinate(StringBuilder line, double position, TileGrid grid, double metres) {
        ShortDecimal.append(line, Math.abs(position) < 1e-9 * grid.pitchMetres() ? 0 : position / metres);
    }
}
