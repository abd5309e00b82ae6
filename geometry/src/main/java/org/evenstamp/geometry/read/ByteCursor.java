package org.evenstamp.geometry.read;

import java.nio.charset.StandardCharsets;
import org.evenstamp.shared.problem.InputException;

/**
 * A place in a chunk that moves forward. Behind the chunk stand zero bytes, which are part of no syntax, so nothing here asks
 * whether the chunk has ended before it looks.
 */
class ByteCursor {
    private static final double[] TENS = {
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19,
        1e20, 1e21, 1e22
    };
    private static final long[] WHOLE_TENS = {1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000};
    private static final long EXACT = 1L << 53;
    private static final long DIGITS = ByteWords.eight('0');
    private static final long HIGHS = ByteWords.eight(0x80);
    private static final long OVER_NINE = ByteWords.eight(0x76);

    protected Chunk chunk;
    protected byte[] bytes;
    protected int at;
    protected int end;
    /** Line of the record that was begun last. */
    protected long line;

    ByteCursor(Chunk chunk) {
        this.chunk = chunk;
        this.bytes = chunk.bytes;
    }

    /** Goes to the beginning of a chunk. */
    protected final void start(Chunk next) {
        chunk = next;
        bytes = next.bytes;
        at = 0;
        end = next.length;
        line = next.line;
    }

    /** Goes to the next line that is neither blank nor a comment, to its first byte that is not blank; false at the end. */
    protected final boolean nextRecord(boolean comments) {
        while (at < end) {
            byte b = bytes[at];
            if (b == '\n') {
                line++;
                at++;
            } else if (b == ' ' || b == '\t' || b == '\r') {
                at++;
            } else if (comments && b == '#') {
                while (at < end && bytes[at] != '\n') {
                    at++;
                }
            } else {
                return true;
            }
        }
        return false;
    }

    /** Passes over spaces and tabs. */
    protected final void blanks() {
        while (bytes[at] == ' ' || bytes[at] == '\t') {
            at++;
        }
    }

    /** Checks that nothing follows on the line. */
    protected final void endOfLine() {
        blanks();
        if (bytes[at] == '\r') {
            at++;
        }
        if (at < end && bytes[at] != '\n') {
            throw syntax("the line goes on with " + here() + " after its geometry", "write one geometry on each line");
        }
    }

    /** Returns a syntax error at the cursor. */
    protected final InputException syntax(String message, String fix) {
        return chunk.syntax(Math.min(at, end), message, fix);
    }

    /** Returns what stands at the cursor, for a message. */
    protected final String here() {
        if (at >= end) {
            return "the end";
        }
        byte b = bytes[at];
        if (b == '\n' || b == '\r') {
            return "the end of the line";
        }
        return b > ' ' && b < 127 ? "'" + (char) b + "'" : String.format("byte 0x%02x", b & 0xFF);
    }

    /** Returns the text from an index to another. */
    protected final String text(int from, int to) {
        return new String(bytes, from, to - from, StandardCharsets.UTF_8);
    }

    /**
     * Reads a decimal number: the nearest double, the one that {@link Double#parseDouble} gives. The words NaN, Inf and Infinity
     * in any case are numbers too. When none stands here, the cursor stays where it is.
     */
    final double number() {
        byte[] b = bytes;
        int p = at;
        boolean negative = b[p] == '-';
        if (negative) {
            p++;
        }
        long word = ByteWords.word(b, p) ^ DIGITS;
        int digits = Long.numberOfTrailingZeros(((word + OVER_NINE) | word) & HIGHS) >>> 3;
        if (digits == 0 || digits == 8) {
            return anyNumber();
        }
        long mantissa = value(word, digits);
        p += digits;
        if (b[p] != '.') {
            if ((b[p] | 0x20) == 'e') {
                return anyNumber();
            }
            at = p;
            return negative ? -(double) mantissa : mantissa;
        }
        p++;
        word = ByteWords.word(b, p) ^ DIGITS;
        digits = Long.numberOfTrailingZeros(((word + OVER_NINE) | word) & HIGHS) >>> 3;
        if (digits == 0) {
            return anyNumber();
        }
        mantissa = mantissa * WHOLE_TENS[digits] + value(word, digits);
        p += digits;
        byte after = b[p];
        if ((after | 0x20) == 'e' || (after >= '0' && after <= '9')) {
            return anyNumber();
        }
        at = p;
        // At most 15 digits and a power of ten below 1e22 are exact, so the one division rounds once.
        double value = mantissa / TENS[digits];
        return negative ? -value : value;
    }

    /** Returns the number that the first 1 to 8 bytes of a word spell, each already less '0'. */
    private static long value(long word, int digits) {
        long v = word << (64 - 8 * digits); // leading zeros come in from below
        v = v * 10 + (v >>> 8); // pairs
        long low = (v & 0x000000FF000000FFL) * 0x000F424000000064L;
        long high = ((v >>> 16) & 0x000000FF000000FFL) * 0x0000271000000001L;
        return (low + high) >>> 32;
    }

    private double anyNumber() {
        byte[] b = bytes;
        int p = at;
        boolean negative = b[p] == '-';
        if (negative || b[p] == '+') {
            p++;
        }
        int first = p;
        long mantissa = 0;
        int kept = 0;
        int digits = 0;
        int exponent = 0;
        boolean point = false;
        for (; ; p++) {
            byte c = b[p];
            if (c >= '0' && c <= '9') {
                digits++;
                if (kept < 18) {
                    mantissa = mantissa * 10 + (c - '0');
                    kept += mantissa == 0 ? 0 : 1;
                    exponent -= point ? 1 : 0;
                } else {
                    kept++;
                    exponent += point ? 0 : 1;
                }
            } else if (c == '.' && !point) {
                point = true;
            } else {
                break;
            }
        }
        if (digits == 0) {
            return word(first, negative);
        }
        if ((b[p] | 0x20) == 'e') {
            int q = p + 1;
            boolean down = b[q] == '-';
            if (down || b[q] == '+') {
                q++;
            }
            if (b[q] >= '0' && b[q] <= '9') {
                int power = 0;
                for (; b[q] >= '0' && b[q] <= '9'; q++) {
                    power = Math.min(100_000_000, power * 10 + (b[q] - '0'));
                }
                exponent += down ? -power : power;
                p = q;
            }
        }
        int from = at;
        at = p;
        if (kept <= 18 && mantissa <= EXACT && exponent >= -22 && exponent <= 22) {
            double value = exponent < 0 ? mantissa / TENS[-exponent] : mantissa * TENS[exponent];
            return negative ? -value : value;
        }
        return Double.parseDouble(new String(b, from, p - from, StandardCharsets.ISO_8859_1));
    }

    private double word(int from, boolean negative) {
        double value;
        int length;
        if (spells(from, "infinity")) {
            value = Double.POSITIVE_INFINITY;
            length = 8;
        } else if (spells(from, "inf")) {
            value = Double.POSITIVE_INFINITY;
            length = 3;
        } else if (spells(from, "nan")) {
            value = Double.NaN;
            length = 3;
        } else {
            return Double.NaN;
        }
        if (Character.isLetterOrDigit(bytes[from + length])) {
            return Double.NaN;
        }
        at = from + length;
        return negative ? -value : value;
    }

    /** Returns whether a lower-case word stands at an index, in any case. */
    protected final boolean spells(int from, String word) {
        for (int i = 0; i < word.length(); i++) {
            if ((bytes[from + i] | 0x20) != word.charAt(i)) {
                return false;
            }
        }
        return true;
    }
}
