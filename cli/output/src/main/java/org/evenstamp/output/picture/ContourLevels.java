package org.evenstamp.output.picture;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.unit.Unit;

/** Round levels for the contours of a field: about ten over the range that its map's colours stand for. */
public final class ContourLevels {
    private static final int MOST = 12;

    private ContourLevels() {}

    /** Returns the levels in SI; one alone for a field without a range, and none for one without a value. */
    public static double[] of(Field field) {
        if (field.sorted().length == 0) {
            return new double[0];
        }
        Unit unit = field.name().unit();
        ColourRange range = ColourRange.of(field);
        if (!(range.high() > range.low())) {
            return new double[] {unit.toSi(range.low())};
        }
        return NiceStep.ticks(range.low(), range.high(), MOST).stream()
                .mapToDouble(unit::toSi)
                .toArray();
    }
}
