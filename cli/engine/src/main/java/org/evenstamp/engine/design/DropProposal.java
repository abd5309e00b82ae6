package org.evenstamp.engine.design;

import org.evenstamp.analysis.drops.DropMap;
import org.evenstamp.engine.result.Results;

/**
 * Drops that were proposed.
 *
 * @param results the measured layout with a field each for the film that is needed and given, the number of drops and the time in
 *     which they meet
 * @param drops how many drops go to each site of the raster
 * @param raster where the sites are
 * @param dropCubicMetres volume of a drop as it leaves the nozzle
 * @param leftCubicMetres what evaporation leaves of it
 * @param slowestSeconds when the slowest drops meet, at least; 0 where the job does not say enough to tell
 */
public record DropProposal(
        Results results,
        DropMap drops,
        Raster raster,
        double dropCubicMetres,
        double leftCubicMetres,
        double slowestSeconds) {
    /**
     * Where drops can be put.
     *
     * @param originXMetres x of the first site
     * @param originYMetres y of the first site
     * @param pitchMetres step in both directions
     */
    public record Raster(double originXMetres, double originYMetres, double pitchMetres) {
        /** Returns x of a column of sites, m. */
        public double xMetres(int column) {
            return originXMetres + column * pitchMetres;
        }

        /** Returns y of a row of sites, m. */
        public double yMetres(int row) {
            return originYMetres + row * pitchMetres;
        }
    }
}
