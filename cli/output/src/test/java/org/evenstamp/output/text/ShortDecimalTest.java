package org.evenstamp.output.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ShortDecimalTest {
    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "-0.0, 0",
        "1, 1",
        "-1, -1",
        "0.1, 0.1",
        "100, 100",
        "123456789, 123456789",
        "1234567891, 1234567890",
        "9999999999, 10000000000",
        "0.000012345, 0.000012345",
        "0.0000012345, 1.2345e-6",
        "1e15, 1e15",
        "999999999999999, 1e15",
        "1e14, 100000000000000",
        "1e300, 1e300",
        "-2.5e-300, -2.5e-300",
        "4.9e-324, 4.94065646e-324",
        "0.33333333333, 0.333333333"
    })
    void numbers_are_short_and_without_trailing_zeros(double value, String text) {
        assertThat(ShortDecimal.of(value)).isEqualTo(text);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void the_text_is_the_value_rounded_to_nine_digits(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < 20_000; i++) {
            double value = (random.nextDouble() - 0.5) * Math.pow(10, random.nextInt(-320, 308));
            BigDecimal exact = new BigDecimal(value);
            BigDecimal written = new BigDecimal(ShortDecimal.of(value));
            BigDecimal half =
                    exact.round(new MathContext(9, RoundingMode.HALF_EVEN)).ulp();
            // Half a unit of the ninth digit, and a trifle for the one rounding in double arithmetic.
            assertThat(exact.subtract(written).abs())
                    .as("%s", value)
                    .isLessThanOrEqualTo(half.multiply(new BigDecimal("0.500001")));
        }
    }

    @Test
    void what_is_not_finite_is_refused() {
        assertThatThrownBy(() -> ShortDecimal.of(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> ShortDecimal.of(Double.NEGATIVE_INFINITY))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
