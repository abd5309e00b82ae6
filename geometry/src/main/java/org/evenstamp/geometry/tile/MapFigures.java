package org.evenstamp.geometry.tile;

import java.util.List;
import java.util.stream.IntStream;
import org.evenstamp.geometry.coverage.LayeredSums;
import org.evenstamp.geometry.merge.MergedLayout;
import org.evenstamp.geometry.merge.Survey;
import org.evenstamp.shared.spi.Figure;

/** The bookkeeping of a tile map: how much was drawn, merged and measured. */
final class MapFigures {
    private MapFigures() {}

    static List<Figure> of(
            TileSums sums,
            Survey.Totals totals,
            int copies,
            MergedLayout.Report report,
            LayeredSums layered,
            WidthMapper widths) {
        double cavity = 0;
        double volume = 0;
        for (int i = 0; i < sums.cavity.length; i++) {
            cavity += sums.cavity[i];
            volume += sums.volume[i];
        }
        double area = sums.grid.tileAreaSquareMetres();
        return List.of(
                Figure.of("polygons.drawn", (double) totals.polygons(), "1", "polygons in the layout"),
                Figure.of(
                        "polygons.standing",
                        (double) totals.copies() * copies,
                        "1",
                        "polygons with the copies of arrays"),
                Figure.of("vertices", (double) totals.vertices(), "1", "vertices of drawn polygons"),
                Figure.of(
                        "area.drawn", layered.drawnAreaSquareMetres(), "mm^2", "area of drawn polygons after merging"),
                Figure.of("area.outside", outside(layered, area), "mm^2", "part of it beyond the stamp's rim"),
                Figure.of("cavity.area", cavity * area, "mm^2", "cavity area of the stamp"),
                Figure.of("cavity.volume.total", volume * area, "mm^2 nm", "cavity volume of the stamp"),
                Figure.of(
                        "cavity.width.unknown",
                        (double) unknown(sums, widths.cavities(sums)),
                        "1",
                        "tiles with walls in which no cavity narrower than a tile is seen"),
                Figure.of(
                        "protrusion.width.unknown",
                        (double) unknown(sums, widths.protrusions(sums)),
                        "1",
                        "tiles with walls in which no protrusion narrower than a tile is seen"),
                Figure.of("merge.candidates", (double) report.candidates(), "1", "pairs of features whose boxes meet"),
                Figure.of("merge.meeting", (double) report.meeting(), "1", "pairs that overlap or share an edge"),
                Figure.of("merge.features", report.merged(), "1", "features merged because of that"));
    }

    private static long unknown(TileSums sums, double[] widths) {
        return IntStream.range(0, widths.length)
                .filter(tile -> sums.edge[tile] > 0 && Double.isNaN(widths[tile]))
                .count();
    }

    /** Drawn area beyond the grid, 0 where it is no more than rounding. */
    static double outside(LayeredSums layered, double tileArea) {
        double outside = layered.drawnAreaSquareMetres() - inside(layered, tileArea);
        return outside > layered.roundingSquareMetres() ? outside : 0;
    }

    private static double inside(LayeredSums layered, double tileArea) {
        double inside = 0;
        for (var entry : layered.layers().entrySet()) {
            if (!entry.getKey().isEdges()) {
                for (double share : entry.getValue().coverage()) {
                    inside += share;
                }
            }
        }
        return inside * tileArea;
    }
}
