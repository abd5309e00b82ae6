package org.evenstamp.output.text;

import java.math.BigDecimal;
import java.math.MathContext;

/** Writes numbers with at most nine significant digits and no trailing zeros, the same on every Java version. */
public final class ShortDecimal {
    private static final int DIGITS = 9;
    private static final double[] POWERS = new double[23];

    static {
        double power = 1;
        for (int i = 0; i < POWERS.length; i++) {
            POWERS[i] = power; // exact: powers of ten up to 1e22 are doubles
            power *= 10;
        }
    }

    private ShortDecimal() {}

    /** Returns the number as text. */
    public static String of(double value) {
        StringBuilder text = new StringBuilder(16);
        append(text, value);
        return text.toString();
    }

    /** Returns the number with fewer significant digits, for a table. */
    public static String of(double value, int digits) {
        return of(new BigDecimal(value).round(new MathContext(digits)).doubleValue());
    }

    /**
     * Appends the number: plain from 1e-5 to 1e15, otherwise with an exponent, such as {@code 1.5e-7}. Zero has no sign.
     *
     * @throws IllegalArgumentException when the value is not finite
     */
    public static void append(StringBuilder text, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("a result must be finite, was " + value);
        }
        if (value == 0) {
            text.append('0');
            return;
        }
        double size = Math.abs(value);
        int exponent = (int) Math.floor(Math.log10(size));
        int shift = DIGITS - 1 - exponent;
        long digits;
        if (Math.abs(shift) < POWERS.length) {
            // One rounding of a double, far below the ninth digit.
            digits = Math.round(shift >= 0 ? size * POWERS[shift] : size / POWERS[-shift]);
        } else {
            BigDecimal rounded = new BigDecimal(size).round(new MathContext(DIGITS));
            digits = rounded.unscaledValue().longValueExact();
            int missing = DIGITS - rounded.precision();
            digits *= (long) POWERS[Math.max(0, missing)];
            exponent = rounded.precision() - rounded.scale() - 1;
        }
        if (digits >= 1_000_000_000) {
            digits /= 10; // rounded up to the next power of ten, or log10 was a bit low
            exponent++;
        } else if (digits < 100_000_000) {
            digits *= 10; // log10 was a bit high
            exponent--;
        }
        int count = DIGITS;
        while (digits % 10 == 0) {
            digits /= 10;
            count--;
        }
        if (value < 0) {
            text.append('-');
        }
        place(text, Long.toString(digits), count, exponent);
    }

    private static void place(StringBuilder text, String digits, int count, int exponent) {
        if (exponent < -5 || exponent >= 15) {
            text.append(digits.charAt(0));
            if (count > 1) {
                text.append('.').append(digits, 1, count);
            }
            text.append('e').append(exponent);
        } else if (exponent < 0) {
            text.append("0.").append("0".repeat(-exponent - 1)).append(digits);
        } else if (count <= exponent + 1) {
            text.append(digits).append("0".repeat(exponent + 1 - count));
        } else {
            text.append(digits, 0, exponent + 1).append('.').append(digits, exponent + 1, count);
        }
    }
}
