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
 * @param goal what was made small, in words
 * @param startMetres that number without dummies, where it was to be even
 * @param rounds what each round did
 * @param curve what dummies bring: the best rounds, each with more dummies than the one before and a smaller number
 * @param noSlopes why slopes of the solve did not take part; empty where they did
 * @param warnings tiles that could not be served
 */
public record DummyProposal(
        Results before,
        Results after,
        String over,
        double windowMetres,
        long dummies,
        double areaSquareMetres,
        String goal,
        double startMetres,
        List<Round> rounds,
        List<Round> curve,
        String noSlopes,
        List<Finding.Warning> warnings) {
    /**
     * One round.
     *
     * @param number from 1
     * @param way what its amounts come from
     * @param program how the program ended
     * @param dummies how many were placed
     * @param askedSquareMetres area asked for
     * @param placedSquareMetres area placed
     * @param sigma3Metres three standard deviations of the residual layer that came out, where it was to be even
     * @param goalMetres what was to be made small
     * @param kept whether its dummies are proposed
     */
    public record Round(
            int number,
            Way way,
            ProgramReport program,
            long dummies,
            double askedSquareMetres,
            double placedSquareMetres,
            double sigma3Metres,
            double goalMetres,
            boolean kept) {}

    /** What the amounts of a round come from. */
    public enum Way {
        /** The averaged volume. */
        AVERAGES("averages"),
        /** The slopes of the last solve. */
        SLOPES("slopes"),
        /** The slopes, at a higher price of dummies. */
        FEWER("fewer");

        private final String word;

        Way(String word) {
            this.word = word;
        }

        /** Returns a word for it. */
        public String word() {
            return word;
        }
    }

    /** Copies the lists. */
    public DummyProposal {
        rounds = List.copyOf(rounds);
        curve = List.copyOf(curve);
        warnings = List.copyOf(warnings);
    }
}
