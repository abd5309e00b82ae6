package org.evenstamp.shared.finding;

import java.util.Locale;
import org.evenstamp.shared.problem.Source;

/**
 * A bound on a field, as the job sets it.
 *
 * @param fieldId id of the field
 * @param measure which number of the field is bounded
 * @param side whether the bound is the least or the most that is allowed
 * @param boundSi the bound, in SI
 * @param source where the job sets it; nowhere when it comes from elsewhere
 */
public record Limit(String fieldId, Measure measure, Side side, double boundSi, Source source) {
    /** Makes a limit that no file sets. */
    public Limit(String fieldId, Measure measure, Side side, double boundSi) {
        this(fieldId, measure, side, boundSi, Source.NOWHERE);
    }

    /** Which number of a field a limit looks at. */
    public enum Measure {
        /** Every tile's own value. */
        EACH,
        /** Mean over the tiles with a value. */
        MEAN,
        /** Largest minus smallest value. */
        SPREAD,
        /** Three standard deviations (of the population of tiles). */
        SIGMA3;

        /** Returns the word used in job files and results. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /** Which side is forbidden. */
    public enum Side {
        /** The value must not be smaller. */
        AT_LEAST,
        /** The value must not be larger. */
        AT_MOST
    }
}
