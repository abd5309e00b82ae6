package org.evenstamp.shared.unit;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A number with its unit, as a person writes it: {@code "150 degC"}, {@code "200nm"}, {@code "1e4 Pa s"}.
 *
 * @param value the number as written, finite
 * @param unit the unit as written
 */
public record Quantity(double value, Unit unit) {

    private static final Pattern FORM =
            Pattern.compile("([+-]?(?:[0-9]++\\.?[0-9]*+|\\.[0-9]++)(?:[eE][+-]?[0-9]++)?)\\s*+(.*)");
    /** Nobody writes a longer one; a number of a million digits takes a minute to read. */
    private static final int LONGEST = 200;

    /** Checks that the number is finite. */
    public Quantity {
        if (!Double.isFinite(value)) {
            throw new UnitException("the number in a quantity must be finite");
        }
    }

    /**
     * Reads a quantity.
     *
     * @throws UnitException when there is no number, no unit, or an unknown one
     */
    public static Quantity parse(String text) {
        if (text.length() > LONGEST) {
            throw new UnitException("\"" + text.substring(0, 40) + " ...\" is too long for a number with a unit, with "
                    + text.length() + " characters");
        }
        Matcher matcher = FORM.matcher(text.strip());
        if (!matcher.matches()) {
            throw new UnitException("\"" + text + "\" is not a number with a unit, such as \"250 nm\"");
        }
        if (matcher.group(2).isEmpty()) {
            throw new UnitException(
                    "\"" + text + "\" has no unit (write \"" + text.strip() + " nm\", or \" 1\" for a pure number)");
        }
        return new Quantity(Double.parseDouble(matcher.group(1)), Unit.parse(matcher.group(2)));
    }

    /** Returns the value in SI. */
    public double si() {
        return unit.toSi(value);
    }

    /**
     * Returns the SI value, provided the dimension is that of {@code expected}.
     *
     * @throws UnitException when the dimension differs
     */
    public double siAs(Unit expected) {
        if (!unit.dimension().equals(expected.dimension())) {
            throw new UnitException(
                    "\"" + unit.symbol() + "\" does not measure what \"" + expected.symbol() + "\" measures");
        }
        return si();
    }
}
