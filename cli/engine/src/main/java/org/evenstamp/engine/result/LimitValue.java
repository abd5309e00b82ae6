package org.evenstamp.engine.result;

import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.unit.Unit;

/** Turns the numbers of a limit from SI into a field's display unit. */
public final class LimitValue {
    private LimitValue() {}

    /** Returns the SI value in the unit; a spread is a difference and takes no part of the unit's offset. */
    public static double shown(Limit limit, Unit unit, double si) {
        boolean difference = limit.measure() == Limit.Measure.SPREAD || limit.measure() == Limit.Measure.SIGMA3;
        return difference ? si / unit.scale() : unit.fromSi(si);
    }
}
