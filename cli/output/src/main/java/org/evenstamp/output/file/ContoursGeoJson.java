package org.evenstamp.output.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.evenstamp.engine.job.LengthUnit;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Contours;
import org.evenstamp.output.picture.ContourLevels;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.unit.Unit;
import org.jspecify.annotations.Nullable;

/**
 * Writes the contours of a field as GeoJSON: a feature with a multipolygon for what lies between two levels, lowest first, with the
 * properties {@code field}, {@code from}, {@code to} (null where there is no bound) and {@code unit}. Coordinates and the member
 * {@code units} are as in {@code tiles.geojson}.
 */
public final class ContoursGeoJson {
    private ContoursGeoJson() {}

    /** Returns the name of the file within a directory of results. */
    public static String name(Field field) {
        return "contours/" + field.name().id() + ".geojson";
    }

    /**
     * Writes the file.
     *
     * @param levelsSi ascending; empty to choose round ones
     */
    public static void write(Path file, Results results, Field field, double[] levelsSi, Progress progress)
            throws IOException {
        String units = results.layoutUnit();
        double metres = LengthUnit.metres(units);
        Unit unit = field.name().unit();
        double[] levels = levelsSi.length > 0 ? levelsSi : ContourLevels.of(field);
        List<Contours.Band> bands = Contours.bands(field, levels, progress);
        try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            out.write("{\"type\":\"FeatureCollection\",\"units\":\"" + units + "\",\"features\":[\n");
            for (int i = 0; i < bands.size(); i++) {
                Contours.Band band = bands.get(i);
                StringBuilder line = new StringBuilder("{\"type\":\"Feature\",\"properties\":{\"field\":\"")
                        .append(field.name().id())
                        .append("\",\"from\":");
                level(line, band.fromSi(), unit);
                level(line.append(",\"to\":"), band.toSi(), unit);
                line.append(",\"unit\":\"")
                        .append(unit.symbol())
                        .append("\"},\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":[");
                for (int p = 0; p < band.polygons().size(); p++) {
                    line.append(p == 0 ? "[" : ",[");
                    List<double[]> rings = band.polygons().get(p);
                    for (int r = 0; r < rings.size(); r++) {
                        ring(line.append(r == 0 ? "[" : ",["), rings.get(r), metres);
                        line.append(']');
                    }
                    line.append(']');
                    out.append(line);
                    line.setLength(0);
                }
                out.append(line.append(i + 1 < bands.size() ? "]}},\n" : "]}}\n"));
            }
            out.append("]}\n");
        }
    }

    private static void level(StringBuilder line, @Nullable Double si, Unit unit) {
        if (si == null) {
            line.append("null");
        } else {
            ShortDecimal.append(line, unit.fromSi(si));
        }
    }

    private static void ring(StringBuilder line, double[] xy, double metres) {
        double size = Arrays.stream(xy).map(Math::abs).max().orElse(0);
        for (int i = 0; i < xy.length; i += 2) {
            line.append(i == 0 ? "[" : ",[");
            coordinate(line, xy[i], size, metres);
            coordinate(line.append(','), xy[i + 1], size, metres);
            line.append(']');
        }
    }

    /** Appends a coordinate; one on an axis is 0, not what rounding leaves of it. */
    private static void coordinate(StringBuilder line, double position, double size, double metres) {
        ShortDecimal.append(line, Math.abs(position) < 1e-12 * size ? 0 : position / metres);
    }
}
