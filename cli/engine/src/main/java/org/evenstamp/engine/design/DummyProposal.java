package org.evenstamp.engine.design;

import java.util.List;
import org.evenstamp.analysis.dummy.ProgramReport;
import org.evenstamp.engine.result.Results;
import org.evenstamp.shared.finding.Finding;

/**
 * Dummies that were proposed, and the stamp without and with them.
 *
 * @param before the stamp as it is
 * @param after with the dummies of the best round
 * @param over where the residual layer was to be even, in words
 * @param windowMetres length over which the cavity volume was averaged
 * @param dummies how many were placed
 * @param areaSquareMetres their area
 * @param rounds what each round did
 * @param warnings tiles that could not be served
 */
public record DummyProposal(
        Results before,
        Results after,
        String over,
        double windowMetres,
        long dummies,
        double areaSquareMetres,
        List<Round> rounds,
        List<Finding.Warning> warnings) {
    /**
     * One round.
     *
     * @param number from 1
     * @param program how the program ended
     * @param dummies how many were placed
     * @param askedSquareMetres area asked for
     * @param placedSquareMetres area placed
     * @param sigma3Metres three standard deviations of the residual layer that came out, where it was to be even
     */
    public record Round(
            int number,
            ProgramReport program,
            long dummies,
            double askedSquareMetres,
            double placedSquareMetres,
            double sigma3Metres) {}

    /** Copies the lists. */
    public DummyProposal {
        rounds = List.copyOf(rounds);
        warnings = List.copyOf(warnings);
    }
}
