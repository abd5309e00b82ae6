package org.evenstamp.output.compare;

import org.evenstamp.shared.finding.Place;

/**
 * A broken limit of a stored run.
 *
 * @param limit the limit
 * @param found the value found, in the limit's unit
 * @param tiles number of tiles that break it
 * @param place the worst tile, or the whole stamp
 */
public record StoredFinding(StoredLimit limit, double found, int tiles, Place place) {}
