package org.evenstamp.geometry.tile;

import java.io.Serializable;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.shared.grid.TileGrid;

/**
 * What whoever measures a band of rows of tiles has to know, lengths in metres.
 *
 * @param drawnAreCavities what the drawn polygons are
 * @param depthMetres the stamp's cavity depth
 * @param around what lies around the map
 * @param originXMetres left end of the tiles
 * @param originYMetres lower end of the tiles
 * @param pitchMetres side of a tile
 * @param columns tiles along x
 * @param rows tiles along y
 * @param outline left, lower, right and upper end of the stamp
 * @param bands number of bands
 * @param looksForHeaps whether there is an edge length beyond all measure
 */
public record BandSpec(
        boolean drawnAreCavities,
        double depthMetres,
        MapOptions.Around around,
        double originXMetres,
        double originYMetres,
        double pitchMetres,
        int columns,
        int rows,
        MapOptions.Outline outline,
        int bands,
        boolean looksForHeaps)
        implements Serializable {
    /** Rows on either side that a band's pictures and walls look at, at the other end of a map that repeats itself too. */
    static final int SEEN = 2;
    /** Rows on either side from which a band needs the features: whatever hangs together with one that is seen is merged. */
    private static final int HALO = SEEN + 2;

    private static final double SLACK = 1e-6;

    /** Returns the tiles. */
    public TileGrid grid() {
        return new TileGrid(originXMetres, originYMetres, pitchMetres, columns, rows);
    }

    LayerRules rules() {
        return new LayerRules(drawnAreCavities, depthMetres);
    }

    /** Returns the first row of a band. */
    public int first(int band) {
        return (int) ((long) rows * band / bands);
    }

    /** Returns the end of the rows of a band. */
    public int end(int band) {
        return first(band + 1);
    }

    /** Returns the row in which a height lies; what lies beyond the tiles counts to the outermost row. */
    int row(double y) {
        return (int) Math.max(0, Math.min(rows - 1, Math.floor((y - originYMetres) / pitchMetres)));
    }

    /** Returns whether something that begins at a height counts to a band. */
    boolean owns(int band, double lowerEnd) {
        int row = row(lowerEnd);
        return row >= first(band) && row < end(band);
    }

    /** Returns whether a stretch of heights reaches the rows of a band or some rows beside them. */
    private boolean reaches(int band, int beside, double minY, double maxY) {
        int low = row(minY - SLACK * pitchMetres);
        int high = row(maxY + SLACK * pitchMetres);
        int from = first(band) - beside;
        int to = end(band) + beside; // one beyond
        return (low < to && high >= from) || (low < to - rows) || (high >= from + rows);
    }

    /** Returns whether a band needs a polygon. */
    public boolean needs(int band, double[] box) {
        return reaches(band, HALO, box[1], box[3]);
    }

    /** Returns whether a group of merged features that a band sees may go on where the band sees nothing. */
    boolean mayGoOn(int band, double minY, double maxY) {
        if (!reaches(band, SEEN, minY, maxY)) {
            return false;
        }
        for (int row = row(minY - SLACK * pitchMetres); row <= row(maxY + SLACK * pitchMetres); row++) {
            int from = first(band) - HALO;
            int to = end(band) + HALO;
            boolean seen = (row >= from && row < to) || row < to - rows || row >= from + rows;
            if (!seen) {
                return true;
            }
        }
        return false;
    }

    /** Writes into an array which bands need a polygon; returns how many do. */
    public int bandsOf(PackedPolygon polygon, double[] box, int[] into) {
        polygon.box(box);
        int count = 0;
        for (int band = 0; band < bands; band++) {
            if (needs(band, box)) {
                into[count++] = band;
            }
        }
        return count;
    }
}
