package org.evenstamp.output.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenstamp.analysis.drops.DropMap;
import org.evenstamp.engine.design.DropProposal;
import org.evenstamp.output.text.ShortDecimal;

/**
 * Drops as files: where there are any, how many. Positions in micrometres, in the layout's plane.
 *
 * @param proposal the drops
 */
public record DropFiles(DropProposal proposal) {
    private interface Line {
        void write(BufferedWriter out, String x, String y, int drops) throws IOException;
    }

    /** Writes {@code x_um,y_um,drops}, a line a site with drops. */
    public void csv(Path file) throws IOException {
        try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            out.write("x_um,y_um,drops\n");
            each(out, (to, x, y, drops) -> to.write(x + "," + y + "," + drops + "\n"));
        }
    }

    /** Writes points with the property {@code drops}, in GeoJSON with the foreign member {@code units}. */
    public void geoJson(Path file) throws IOException {
        try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
            out.write("{\"type\":\"FeatureCollection\",\"units\":\"um\",\"features\":[");
            boolean[] first = {true};
            each(out, (to, x, y, drops) -> {
                to.write((first[0] ? "\n" : ",\n") + "{\"type\":\"Feature\",\"properties\":{\"drops\":" + drops
                        + "},\"geometry\":{\"type\":\"Point\",\"coordinates\":[" + x + "," + y + "]}}");
                first[0] = false;
            });
            out.write("\n]}\n");
        }
    }

    private void each(BufferedWriter out, Line line) throws IOException {
        DropMap map = proposal.drops();
        DropProposal.Raster raster = proposal.raster();
        for (int row = 0; row < map.rows(); row++) {
            for (int column = 0; column < map.columns(); column++) {
                int drops = map.at(column, row);
                if (drops > 0) {
                    line.write(out, micrometres(raster.xMetres(column)), micrometres(raster.yMetres(row)), drops);
                }
            }
        }
    }

    private static String micrometres(double metres) {
        return ShortDecimal.of(Math.rint(metres * 1e10) / 1e4);
    }
}
