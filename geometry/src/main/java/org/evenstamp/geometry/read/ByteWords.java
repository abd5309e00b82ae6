package org.evenstamp.geometry.read;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/** Eight bytes looked at in one go. The first byte is the lowest. */
final class ByteWords {
    private static final VarHandle LONGS = MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);
    private static final long ONES = 0x0101010101010101L;
    private static final long LOWS = 0x7F7F7F7F7F7F7F7FL;

    private ByteWords() {}

    /** Returns the eight bytes from {@code at}. */
    static long word(byte[] bytes, int at) {
        return (long) LONGS.get(bytes, at);
    }

    /** Returns the byte value eight times. */
    static long eight(int value) {
        return ONES * value;
    }

    /** Returns a word with the high bit set in exactly those bytes that are zero. */
    static long zeros(long word) {
        return ~(((word & LOWS) + LOWS) | word | LOWS);
    }

    /** Returns how often a value occurs from {@code from} up to {@code to}. */
    static int count(byte[] bytes, int from, int to, int value) {
        long pattern = eight(value);
        int count = 0;
        int i = from;
        for (; i + 8 <= to; i += 8) {
            count += Long.bitCount(zeros(word(bytes, i) ^ pattern));
        }
        for (; i < to; i++) {
            count += bytes[i] == value ? 1 : 0;
        }
        return count;
    }

    /** Returns the index of the first quote or brace from {@code from}, or {@code to} when there is none before it. */
    static int quoteOrBrace(byte[] bytes, int from, int to) {
        int i = from;
        for (; i + 8 <= to; i += 8) {
            long word = word(bytes, i);
            // With the bits 2 and 4 set both braces become 0x7f; so do y and delete, which the caller looks at again.
            long found = zeros((word | eight(0x06)) ^ eight(0x7F)) | zeros(word ^ eight('"'));
            if (found != 0) {
                int at = i + (Long.numberOfTrailingZeros(found) >>> 3);
                byte b = bytes[at];
                if (b == '{' || b == '}' || b == '"') {
                    return at;
                }
                i = at - 7; // the loop adds 8
            }
        }
        for (; i < to; i++) {
            byte b = bytes[i];
            if (b == '{' || b == '}' || b == '"') {
                return i;
            }
        }
        return to;
    }
}
