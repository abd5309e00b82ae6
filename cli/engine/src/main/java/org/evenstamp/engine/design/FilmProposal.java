package org.evenstamp.engine.design;

import java.util.Optional;
import org.evenstamp.analysis.feature.Unfilled;

/**
 * A film thickness that was proposed, beside thinner and thicker ones.
 *
 * @param targetMetres mean residual layer that was asked for
 * @param thicknessMetres the film that leaves it: the target and the mean cavity volume
 * @param volume cavity volume per area of the stamp
 * @param tileSideMetres side of the tiles on which the films were compared
 * @param coarse whether these are wider than the job's
 * @param comparison one variant a film, thinnest first
 * @param reached what the film asked for comes to
 */
public record FilmProposal(
        double targetMetres,
        double thicknessMetres,
        Volume volume,
        double tileSideMetres,
        boolean coarse,
        Comparison comparison,
        Reached reached) {
    /**
     * What the film asked for comes to when it is computed.
     *
     * @param residualMetres mean residual layer that it leaves; NaN when no analysis tells one
     * @param unfilled tiles that are not full then, which leave their share of film in the layer
     */
    public record Reached(double residualMetres, Optional<Unfilled> unfilled) {}

    /**
     * Cavity volume per area over the tiles.
     *
     * @param leastMetres of the emptiest tile
     * @param meanMetres mean
     * @param mostMetres of the fullest tile
     */
    public record Volume(double leastMetres, double meanMetres, double mostMetres) {}
}
