package org.evenstamp.shared.spi;

import org.evenstamp.shared.unit.Unit;

/**
 * One number of a summary.
 *
 * @param id dotted lower-case words, unique within the analysis
 * @param valueSi the value in SI, finite
 * @param unit unit to show it in
 * @param meaning a few words for a person
 */
public record Figure(String id, double valueSi, Unit unit, String meaning) {
    /** Checks that the value is finite. */
    public Figure {
        if (!Double.isFinite(valueSi)) {
            throw new IllegalArgumentException("the figure " + id + " is not finite");
        }
    }

    /** Makes a figure from the unit's symbol. */
    public static Figure of(String id, double valueSi, String unit, String meaning) {
        return new Figure(id, valueSi, Unit.parse(unit), meaning);
    }
}
