package org.evenstamp.engine.design;

/**
 * A film thickness that was proposed, beside thinner and thicker ones.
 *
 * @param targetMetres mean residual layer that was asked for
 * @param thicknessMetres the film that leaves it: the target and the mean cavity volume
 * @param volume cavity volume per area of the stamp
 * @param tileSideMetres side of the tiles on which the films were compared
 * @param coarse whether these are wider than the job's
 * @param comparison one variant a film, thinnest first
 */
public record FilmProposal(
        double targetMetres,
        double thicknessMetres,
        Volume volume,
        double tileSideMetres,
        boolean coarse,
        Comparison comparison) {
    /**
     * Cavity volume per area over the tiles.
     *
     * @param leastMetres of the emptiest tile
     * @param meanMetres mean
     * @param mostMetres of the fullest tile
     */
    public record Volume(double leastMetres, double meanMetres, double mostMetres) {}
}
