package org.evenstamp.output.compare;

import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.finding.Limit;

/**
 * A limit of a stored run.
 *
 * @param field id of the field it bounds
 * @param region name of the region it looks at; empty for the whole stamp
 * @param measure which number of the field, as in job files
 * @param side {@code <=} or {@code >=}
 * @param bound the bound, in {@code unit}
 * @param unit display unit of the field
 */
public record StoredLimit(String field, String region, String measure, String side, double bound, String unit) {
    /** Returns what makes it the same limit in another run, whatever its bound. */
    String key() {
        return field + (region.isEmpty() ? "" : Limit.AT + region) + " " + measure + " " + side;
    }

    /** Returns it as text. */
    String text() {
        return key() + " " + ShortDecimal.of(bound) + symbol();
    }

    /** Returns the unit as it follows a number. */
    public String symbol() {
        return unit.equals("1") ? "" : " " + unit;
    }
}
