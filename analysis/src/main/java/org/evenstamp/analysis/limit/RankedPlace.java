package org.evenstamp.analysis.limit;

import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;

/**
 * One entry of a {@link Ranking}: tiles that touch each other and share field and cause.
 *
 * @param limit what is held against the field: the job's limit, or 1 for an index
 * @param ratio demand over capacity of the worst tile; above 1 the limit is broken
 * @param foundSi the field's value in the worst tile, SI
 * @param term id of the field whose part dominates the index there, or of the limited field itself
 * @param help what would help, as the analysis says; empty when it says nothing
 * @param tiles number of tiles of the place
 * @param worst the worst tile
 * @param region the named region that has the largest part of it; empty where none has any
 */
public record RankedPlace(
        Limit limit,
        double ratio,
        double foundSi,
        String term,
        String help,
        int tiles,
        Place.Tile worst,
        String region) {
    /** A place in no named region. */
    public RankedPlace(
            Limit limit, double ratio, double foundSi, String term, String help, int tiles, Place.Tile worst) {
        this(limit, ratio, foundSi, term, help, tiles, worst, "");
    }
}
