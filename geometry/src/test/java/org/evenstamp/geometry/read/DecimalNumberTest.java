package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DecimalNumberTest {

    private static double read(String text, String after) {
        Chunk chunk = new Chunk("numbers");
        byte[] bytes = (text + after).getBytes(StandardCharsets.ISO_8859_1);
        System.arraycopy(bytes, 0, chunk.room(bytes.length), 0, bytes.length);
        chunk.end(bytes.length);
        ByteCursor cursor = new ByteCursor(chunk);
        cursor.start(chunk);
        double value = cursor.number();
        if (cursor.at != text.length()) {
            throw new AssertionError("not all of " + text + " is read");
        }
        return value;
    }

    private static void agrees(String text) {
        long wanted = Double.doubleToRawLongBits(Double.parseDouble(text));
        if (Double.doubleToRawLongBits(read(text, ",")) != wanted
                || Double.doubleToRawLongBits(read(text, "")) != wanted) {
            throw new AssertionError(text + " was read as " + read(text, ","));
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0",
                "-0",
                "-0.0",
                "1",
                "12345678",
                "123456789",
                "1234567.",
                ".5",
                "-.5",
                "+1.5",
                "1.12345678",
                "1.123456789",
                "9007199254740993",
                "9007199254740992.5",
                "123456789012345678901234567890",
                "0.1",
                "0.30000000000000004",
                "1e22",
                "1e23",
                "1E-5",
                "1e+5",
                "-1.5e-22",
                "5e-324",
                "2.4703282292062327e-324",
                "1.7976931348623157e308",
                "1e309",
                "1e-400",
                "0.000000000000000000000000012345",
                "00012.5",
                "1e99999999999",
                "8.9e15",
                "1.e3",
                "2.2250738585072011e-308",
                "100000000000000000000000",
                "0e999999999"
            })
    void reads_the_nearest_double(String text) {
        agrees(text);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6})
    void agrees_with_the_standard_library_on_random_text(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < 20_000; i++) {
            StringBuilder text = new StringBuilder(random.nextBoolean() ? "-" : "");
            for (int k = random.nextInt(1, 12); k > 0; k--) {
                text.append(random.nextInt(10));
            }
            if (random.nextInt(4) > 0) {
                text.append('.');
                for (int k = random.nextInt(1, 20); k > 0; k--) {
                    text.append(random.nextInt(10));
                }
            }
            if (random.nextInt(5) == 0) {
                text.append(random.nextBoolean() ? "e" : "E").append(random.nextInt(-320, 320));
            }
            agrees(text.toString());
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void reads_back_every_double_that_was_printed(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < 20_000; i++) {
            double value = Double.longBitsToDouble(random.nextLong());
            if (Double.isFinite(value)) {
                assertThat(read(Double.toString(value), " ")).isEqualTo(value);
            }
            double layoutLike = random.nextDouble(-2e4, 2e4);
            assertThat(read(new BigDecimal(layoutLike).toPlainString(), ")")).isEqualTo(layoutLike);
        }
    }

    @Test
    void knows_the_words_for_what_is_not_finite() {
        assertThat(read("NaN", ",")).isNaN();
        assertThat(read("nan", "")).isNaN();
        assertThat(read("-Infinity", " ")).isEqualTo(Double.NEGATIVE_INFINITY);
        assertThat(read("inf", ")")).isEqualTo(Double.POSITIVE_INFINITY);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "-", "+", ".", "-.", "e5", "abc", "nano", "infinite", "--1", ",1", "\u00ff1"})
    void stays_where_no_number_stands(String text) {
        Chunk chunk = new Chunk("numbers");
        byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
        System.arraycopy(bytes, 0, chunk.room(bytes.length), 0, bytes.length);
        chunk.end(bytes.length);
        ByteCursor cursor = new ByteCursor(chunk);
        cursor.start(chunk);
        assertThat(cursor.number()).isNaN();
        assertThat(cursor.at).isZero();
    }

    @Test
    void an_exponent_without_digits_is_not_part_of_the_number() {
        Chunk chunk = new Chunk("numbers");
        byte[] bytes = "1.5e+x".getBytes(StandardCharsets.ISO_8859_1);
        System.arraycopy(bytes, 0, chunk.room(bytes.length), 0, bytes.length);
        chunk.end(bytes.length);
        ByteCursor cursor = new ByteCursor(chunk);
        cursor.start(chunk);
        assertThat(cursor.number()).isEqualTo(1.5);
        assertThat(cursor.at).isEqualTo(3);
    }
}
