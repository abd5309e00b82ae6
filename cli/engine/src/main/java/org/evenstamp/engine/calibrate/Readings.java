package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.List;

/**
 * Measured values at places of the stamp.
 *
 * @param fieldId the field that was measured, such as {@code residual.final}
 * @param readings the places
 */
public record Readings(String fieldId, List<Reading> readings) {
    /** Copies the list. */
    public Readings {
        readings = List.copyOf(readings);
    }

    /**
     * One place.
     *
     * @param xMetres place to the right
     * @param yMetres place upwards
     * @param valueSi what was measured, SI
     * @param deviationSi its standard deviation, SI, above 0
     * @param line line of the file
     */
    public record Reading(double xMetres, double yMetres, double valueSi, double deviationSi, int line) {}

    /** Returns these readings with other standard deviations, one a place. */
    Readings withDeviations(double[] deviationsSi) {
        List<Reading> changed = new ArrayList<>();
        for (int i = 0; i < readings.size(); i++) {
            Reading one = readings.get(i);
            changed.add(new Reading(one.xMetres, one.yMetres, one.valueSi, deviationsSi[i], one.line));
        }
        return new Readings(fieldId, changed);
    }
}
