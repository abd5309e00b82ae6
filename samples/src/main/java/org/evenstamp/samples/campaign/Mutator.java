package org.evenstamp.samples.campaign;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/** Changes bytes at random: bits, stretches, numbers, and words that mean something. */
final class Mutator {
    private static final List<String> NUMBERS = List.of(
            "0",
            "-0",
            "1",
            "-1",
            "0.1",
            "1e-320",
            "4.9e-324",
            "1e-300",
            "1e300",
            "1e308",
            "1e309",
            "-1e309",
            "1e6",
            "1000001",
            "999999.9999999",
            "2147483647",
            "2147483648",
            "-2147483649",
            "9223372036854775807",
            "9223372036854775808",
            "1e-9",
            "0.30000000000000004",
            "123456789012345678901234567890",
            "1e",
            "1e+",
            "1.",
            ".5",
            "+1",
            "01",
            "NaN",
            "Infinity",
            "-Infinity",
            "null",
            "0x1p3",
            "1_000",
            "1,5",
            "1e99999999999",
            "00000000000000000000000000000001");

    private final SplittableRandom random;
    private final List<String> words;

    /** A mutator with the words of a kind of file. */
    Mutator(SplittableRandom random, List<String> words) {
        this.random = random;
        this.words = words;
    }

    /** Returns the bytes after a few changes; sometimes after none. */
    byte[] mutate(byte[] from) {
        byte[] bytes = from;
        int changes = random.nextInt(1 + random.nextInt(5));
        for (int i = 0; i < changes; i++) {
            bytes = once(bytes);
        }
        return bytes;
    }

    private byte[] once(byte[] bytes) {
        int length = bytes.length;
        int at = length == 0 ? 0 : random.nextInt(length);
        int to = Math.min(length, at + 1 + random.nextInt(random.nextInt(10) == 0 ? length + 1 : 12));
        return switch (random.nextInt(11)) {
            case 0 -> flip(bytes, at);
            case 1 -> spliced(bytes, at, to, new byte[0]);
            case 2 -> spliced(bytes, at, at, Arrays.copyOfRange(bytes, at, to));
            case 3 ->
                spliced(bytes, at, at, words.get(random.nextInt(words.size())).getBytes(StandardCharsets.UTF_8));
            case 4 ->
                spliced(bytes, at, to, words.get(random.nextInt(words.size())).getBytes(StandardCharsets.UTF_8));
            case 5, 6 -> number(bytes, at);
            case 7 -> Arrays.copyOf(bytes, at);
            case 8 -> spliced(bytes, at, at, new byte[] {(byte) random.nextInt(256)});
            case 9 -> repeated(bytes, at, to);
            default -> moved(bytes, at, to);
        };
    }

    private byte[] flip(byte[] bytes, int at) {
        byte[] flipped = bytes.clone();
        if (flipped.length > 0) {
            flipped[at] ^= (byte) (1 << random.nextInt(8));
        }
        return flipped;
    }

    /** Puts another number in the place of the next one. */
    private byte[] number(byte[] bytes, int from) {
        int at = from;
        while (at < bytes.length && !isDigit(bytes[at])) {
            at++;
        }
        int to = at;
        while (to < bytes.length && (isDigit(bytes[to]) || bytes[to] == '.')) {
            to++;
        }
        String number = random.nextInt(3) == 0
                ? Integer.toString(random.nextInt(-50, 50))
                : NUMBERS.get(random.nextInt(NUMBERS.size()));
        return spliced(bytes, at, to, number.getBytes(StandardCharsets.US_ASCII));
    }

    private static boolean isDigit(byte b) {
        return b >= '0' && b <= '9';
    }

    private byte[] repeated(byte[] bytes, int at, int to) {
        int times = random.nextInt(20) == 0 ? 3000 : random.nextInt(8);
        if ((long) (to - at) * times > 1_000_000) {
            return bytes;
        }
        byte[] all = new byte[(to - at) * times];
        for (int i = 0; i < all.length; i++) {
            all[i] = bytes[at + i % (to - at)];
        }
        return spliced(bytes, at, at, all);
    }

    private byte[] moved(byte[] bytes, int at, int to) {
        byte[] piece = Arrays.copyOfRange(bytes, at, to);
        byte[] rest = spliced(bytes, at, to, new byte[0]);
        int there = random.nextInt(rest.length + 1);
        return spliced(rest, there, there, piece);
    }

    private static byte[] spliced(byte[] bytes, int from, int to, byte[] with) {
        byte[] result = new byte[bytes.length - (to - from) + with.length];
        System.arraycopy(bytes, 0, result, 0, from);
        System.arraycopy(with, 0, result, from, with.length);
        System.arraycopy(bytes, to, result, from + with.length, bytes.length - to);
        return result;
    }
}
