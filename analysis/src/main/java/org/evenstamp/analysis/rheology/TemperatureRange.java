package org.evenstamp.analysis.rheology;

import java.util.Locale;

/**
 * An interval of temperature, ends included.
 *
 * @param leastKelvin lower end, not negative
 * @param mostKelvin upper end, finite
 */
public record TemperatureRange(double leastKelvin, double mostKelvin) {
    /** Zero of the Celsius scale in kelvin. */
    private static final double ZERO_CELSIUS = 273.15;

    /** Checks the order. */
    public TemperatureRange {
        if (!(leastKelvin >= 0 && leastKelvin <= mostKelvin && mostKelvin < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "not a range of temperature: " + leastKelvin + " K to " + mostKelvin + " K");
        }
    }

    /** Returns whether the temperature lies inside. */
    public boolean contains(double kelvin) {
        return kelvin >= leastKelvin && kelvin <= mostKelvin;
    }

    /** Returns the range as people write it, in degC. */
    @Override
    public String toString() {
        return celsius(leastKelvin) + " to " + celsius(mostKelvin);
    }

    /** Returns a temperature as people write it, such as {@code "105 degC"}, to a tenth of a degree. */
    public static String celsius(double kelvin) {
        return String.format(Locale.ROOT, "%.1f degC", kelvin - ZERO_CELSIUS).replace(".0 ", " ");
    }
}
