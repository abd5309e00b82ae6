package org.evenstamp.output.compare;

import org.evenstamp.shared.finding.Place;

/**
 * A warning of a stored run.
 *
 * @param origin the analysis or stage that says it
 * @param code its catalogued name
 * @param message what it says
 * @param place where it is worst
 */
public record StoredWarning(String origin, String code, String message, Place place) {}
