package org.evenstamp.engine.calibrate;

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
}
