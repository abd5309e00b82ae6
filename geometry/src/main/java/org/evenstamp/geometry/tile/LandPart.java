package org.evenstamp.geometry.tile;

import org.evenstamp.geometry.measure.PictureMeasures;

/** What the drawn land of one tile, textures aside, contributes to its squeeze moment and flow paths; lengths in metres. */
final class LandPart {
    private final TileSums sums;
    private final double edgeDensity;
    private final int tile;

    /** Moment per tile area, m². */
    double moment;
    /** What fine features alone do of it; negative when that is all. */
    double fineMoment = -1;
    /** Mean path over the drawn land; negative when there is none to speak of. */
    double pathMean = -1;

    double pathMax;

    LandPart(TileSums sums, double[] edgeDensity, int tile) {
        this.sums = sums;
        this.edgeDensity = edgeDensity[tile];
        this.tile = tile;
    }

    /** Returns whether any drawn edge is in the tile. */
    boolean hasEdges() {
        return edgeDensity > 0;
    }

    /** Takes the land for a strip one tile wide, with paths from the map of the whole stamp; 0 where that has none. */
    void far(double mean, double longest) {
        moment = sums.drawnLand[tile] * sums.grid.tileAreaSquareMetres();
        if (longest > 0) {
            pathMean = mean;
            pathMax = longest;
        }
    }

    /** Takes the land for strips of a grating with its share and edges. */
    void grating() {
        double share = 1 - sums.texturedShare(tile);
        double land = Math.min(1, sums.drawnLand[tile] / share);
        double strip = Math.min(2 * land / edgeDensity, sums.grid.pitchMetres());
        moment = sums.drawnLand[tile] * strip * strip;
        pathMean = strip / 4;
        pathMax = strip / 2;
    }

    /** Notes the longest path of a picture. */
    void longest(PictureMeasures picture, double cell) {
        pathMax = Math.max(pathMax, picture.pathMax() * cell);
    }
}
