package org.evenstamp.output.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FieldDifferenceTest {
    private static final Tolerance.Allowance EXACT = new Tolerance.Allowance(0, 0);

    private static double[] values(SplittableRandom random, int tiles) {
        return random.doubles(tiles)
                .map(value -> value < 0.2 ? Double.NaN : value < 0.3 ? 0 : 1e3 * (value - 0.6))
                .toArray();
    }

    /** Compares with sums in decimal arithmetic, which is exact but for one rounding at the end. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void the_numbers_are_those_of_exact_sums(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int tiles = random.nextInt(1, 400);
        double[] a = values(random, tiles);
        double[] b = values(random, tiles);
        BigDecimal sum = BigDecimal.ZERO;
        BigDecimal squares = BigDecimal.ZERO;
        BigDecimal largest = BigDecimal.ZERO;
        int worst = -1;
        int both = 0;
        int onlyA = 0;
        int onlyB = 0;
        for (int i = 0; i < tiles; i++) {
            if (Double.isNaN(a[i]) || Double.isNaN(b[i])) {
                onlyA += Double.isNaN(b[i]) && !Double.isNaN(a[i]) ? 1 : 0;
                onlyB += Double.isNaN(a[i]) && !Double.isNaN(b[i]) ? 1 : 0;
                continue;
            }
            BigDecimal shift = new BigDecimal(b[i]).subtract(new BigDecimal(a[i]));
            both++;
            sum = sum.add(shift);
            squares = squares.add(shift.multiply(shift));
            if (shift.abs().compareTo(largest) > 0) {
                largest = shift.abs();
                worst = i;
            }
        }

        FieldDifference difference = FieldDifference.of("f", "nm", a, b, EXACT);

        assertThat(difference.tiles()).isEqualTo(both);
        assertThat(difference.onlyA()).isEqualTo(onlyA);
        assertThat(difference.onlyB()).isEqualTo(onlyB);
        assertThat(difference.worst()).isEqualTo(worst);
        BigDecimal count = BigDecimal.valueOf(Math.max(1, both));
        assertThat(difference.largest()).isCloseTo(largest.doubleValue(), within(1e-12));
        assertThat(difference.meanShift())
                .isCloseTo(sum.divide(count, MathContext.DECIMAL64).doubleValue(), within(1e-10));
        assertThat(difference.rms())
                .isCloseTo(
                        squares.divide(count, MathContext.DECIMAL64)
                                .sqrt(MathContext.DECIMAL64)
                                .doubleValue(),
                        within(1e-10));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void the_other_way_round_only_the_shift_changes_its_sign(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] a = values(random, 100);
        double[] b = values(random, 100);

        FieldDifference there = FieldDifference.of("f", "nm", a, b, EXACT);
        FieldDifference back = FieldDifference.of("f", "nm", b, a, EXACT);

        assertThat(back)
                .isEqualTo(new FieldDifference(
                        "f",
                        "nm",
                        there.tiles(),
                        there.beyond(),
                        there.onlyB(),
                        there.onlyA(),
                        there.largest(),
                        there.rms(),
                        -there.meanShift(),
                        there.relative(),
                        there.worst(),
                        there.b(),
                        there.a()));
    }

    @Test
    void equal_fields_are_the_same_and_have_no_place() {
        double[] values = {1, Double.NaN, 0, -3};

        FieldDifference difference = FieldDifference.of("f", "nm", values, values.clone(), EXACT);

        assertThat(difference).isEqualTo(new FieldDifference("f", "nm", 3, 0, 0, 0, 0, 0, 0, 0, -1, 0, 0));
        assertThat(difference.same()).isTrue();
    }

    @Test
    void a_tile_without_a_value_in_one_run_is_a_difference() {
        assertThat(FieldDifference.of(
                                "f",
                                "nm",
                                new double[] {1, 2},
                                new double[] {1, Double.NaN},
                                new Tolerance.Allowance(100, 1))
                        .same())
                .isFalse();
    }

    @Test
    void the_share_that_is_told_is_the_tolerance_that_would_do() {
        SplittableRandom random = new SplittableRandom(5);
        double[] a = values(random, 100);
        double[] b = a.clone();
        for (int i = 0; i < b.length; i++) {
            b[i] += 1e-3 * random.nextDouble(-1, 1);
        }
        double relative = FieldDifference.of("f", "nm", a, b, EXACT).relative();

        assertThat(FieldDifference.of("f", "nm", a, b, new Tolerance.Allowance(0, relative))
                        .same())
                .isTrue();
        assertThat(FieldDifference.of("f", "nm", a, b, new Tolerance.Allowance(0, 0.999 * relative))
                        .beyond())
                .isOne();
    }

    @Test
    void tiles_beyond_the_tolerance_are_counted() {
        FieldDifference difference = FieldDifference.of(
                "f",
                "nm",
                new double[] {100, 100, 0, 0, -50},
                new double[] {101, 103, 0.5, 2.5, -51},
                new Tolerance.Allowance(1, 0.02));

        assertThat(difference.beyond()).isEqualTo(2); // 100 -> 103 and 0 -> 2.5: more than 2 % of 103
        assertThat(difference.largest()).isEqualTo(3);
        assertThat(difference.relative()).isEqualTo(3.0 / 103);
        assertThat(difference.worst()).isEqualTo(1);
    }
}
