package org.evenstamp.engine.job;

import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.Unit;
import org.evenstamp.shared.unit.UnitException;

/** Reads the length of one coordinate step: {@code "um"} or {@code "5 nm"}. */
public final class LengthUnit {
    private static final Unit METRE = Unit.parse("m");

    private LengthUnit() {}

    /**
     * Returns the length in metres.
     *
     * @throws UnitException when it is not a positive length
     */
    public static double metres(String text) {
        boolean bare = !text.isBlank() && !Character.isDigit(text.strip().charAt(0));
        double metres = Quantity.parse(bare ? "1 " + text : text).siAs(METRE);
        if (!(metres > 0)) {
            throw new UnitException("\"" + text + "\" is not a positive length");
        }
        return metres;
    }
}
