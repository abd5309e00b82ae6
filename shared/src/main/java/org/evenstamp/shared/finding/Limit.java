package org.evenstamp.shared.finding;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.evenstamp.shared.problem.Source;

/**
 * A bound on a field, as the job sets it.
 *
 * @param fieldId id of the field
 * @param region name of the region that it looks at; empty for the whole stamp
 * @param measure which number of the field is bounded
 * @param side whether the bound is the least or the most that is allowed
 * @param boundSi the bound, in SI
 * @param source where the job sets it; nowhere when it comes from elsewhere
 */
public record Limit(String fieldId, String region, Measure measure, Side side, double boundSi, Source source) {
    /** What stands between field and region where a limit is named. */
    public static final char AT = '@';

    /** Makes a limit on the whole stamp. */
    public Limit(String fieldId, Measure measure, Side side, double boundSi, Source source) {
        this(fieldId, "", measure, side, boundSi, source);
    }

    /** Makes a limit on the whole stamp that no file sets. */
    public Limit(String fieldId, Measure measure, Side side, double boundSi) {
        this(fieldId, measure, side, boundSi, Source.NOWHERE);
    }

    /** Returns what is limited, as a job names it: {@code field} or {@code field@region}. */
    public String subject() {
        return region.isEmpty() ? fieldId : fieldId + AT + region;
    }

    /** Returns what some limits are on, each once, as a list in words. */
    public static String subjects(List<Limit> limits) {
        return limits.stream().map(Limit::subject).distinct().collect(Collectors.joining(", "));
    }

    /** Which number of a field a limit looks at. */
    public enum Measure {
        /** Every tile's own value. */
        EACH,
        /** Mean over the tiles with a value; over a region each counts by the share that the region fills. */
        MEAN,
        /** Largest minus smallest value. */
        SPREAD,
        /** Three standard deviations (of the population of tiles), likewise. */
        SIGMA3,
        /** A number of the whole stamp that is no field: a figure of an analysis. */
        VALUE;

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
