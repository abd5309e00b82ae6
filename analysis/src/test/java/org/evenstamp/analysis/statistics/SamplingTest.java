package org.evenstamp.analysis.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SamplingTest {
    /** Quantiles of the standard normal distribution as tables print them: 97.5 % 1.959964, 84.13447 % 1. */
    @ParameterizedTest
    @CsvSource({"0.975, 1.959964", "0.025, -1.959964", "0.5, 0", "0.841344746, 1"})
    void a_normal_quantile_is_that_of_the_tables(double share, double score) {
        assertThat(new Distribution.Normal(10, 2).quantile(share)).isCloseTo(10 + 2 * score, within(1e-6));
    }

    @Test
    void ninety_five_in_a_hundred_lie_within_the_factor() {
        Distribution viscosity = new Distribution.LogNormal(1e4, 3);

        assertThat(viscosity.quantile(0.5)).isCloseTo(1e4, within(1e-6));
        assertThat(viscosity.quantile(0.975)).isCloseTo(3e4, within(1e-6));
        assertThat(viscosity.quantile(0.025)).isCloseTo(1e4 / 3, within(1e-6));
    }

    /** The triangle's mean is the mean of its corners, its variance (a² + b² + c² - ab - ac - bc)/18. */
    @Test
    void a_triangle_has_its_mean_and_variance() {
        Distribution triangle = new Distribution.Triangular(1, 2, 6);
        int n = 100_000;
        double mean = 0;
        double square = 0;
        for (int i = 0; i < n; i++) {
            double value = triangle.quantile((i + 0.5) / n);
            mean += value / n;
            square += value * value / n;
        }
        assertThat(mean).isCloseTo(3, within(1e-6));
        assertThat(square - mean * mean).isCloseTo((1 + 4 + 36 - 2 - 6 - 12) / 18.0, within(1e-5));
    }

    @Test
    void distributions_of_nothing_are_refused() {
        assertThatThrownBy(() -> new Distribution.Uniform(2, 1)).hasMessageContaining("reversed");
        assertThatThrownBy(() -> new Distribution.LogNormal(1, 1)).hasMessageContaining("factor");
        assertThatThrownBy(() -> new Distribution.Normal(0, 0)).hasMessageContaining("deviation");
        assertThatThrownBy(() -> new Distribution.Triangular(0, 3, 2)).hasMessageContaining("outside");
    }

    /** Of the first 2^k points every slice of width 2^-k of every coordinate holds exactly one: scrambling keeps it. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 77, 123456789})
    void scrambled_points_keep_one_in_every_slice(long seed) {
        int n = 256;
        SobolPoints points = new SobolPoints(12, seed);
        for (int d = 0; d < 12; d++) {
            boolean[] met = new boolean[n];
            for (int i = 0; i < n; i++) {
                double x = points.point(i)[d];
                assertThat(x).isBetween(Math.nextUp(0.0), Math.nextDown(1.0));
                assertThat(met[(int) (x * n)])
                        .as("slice %s of %s", (int) (x * n), d)
                        .isFalse();
                met[(int) (x * n)] = true;
            }
        }
    }

    /** The integral of the product of |4x - 2| over six coordinates is 1; random points err by about 1.7/sqrt(n) = 0.027. */
    @ParameterizedTest
    @ValueSource(longs = {5, 6, 7, 8})
    void scrambled_points_integrate_better_than_random_ones(long seed) {
        int n = 4096;
        SobolPoints points = new SobolPoints(6, seed);
        double sum = 0;
        for (int i = 0; i < n; i++) {
            double product = 1;
            for (double x : points.point(i)) {
                product *= Math.abs(4 * x - 2);
            }
            sum += product;
        }
        assertThat(sum / n).isCloseTo(1, within(0.01));
    }

    @Test
    void points_depend_on_number_and_seed_alone() {
        SobolPoints one = new SobolPoints(3, 9);
        double[] late = one.point(500);
        one.point(3);

        assertThat(new SobolPoints(3, 9).point(500)).isEqualTo(late).isNotEqualTo(new SobolPoints(3, 10).point(500));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 7, 100})
    void a_latin_hypercube_has_one_point_in_every_slice(int count) {
        LatinHypercube points = new LatinHypercube(5, count, 4);
        for (int d = 0; d < 5; d++) {
            boolean[] met = new boolean[count];
            for (int i = 0; i < count; i++) {
                int slice = (int) (points.point(i)[d] * count);
                assertThat(met[slice]).isFalse();
                met[slice] = true;
            }
        }
    }

    @Test
    void normal_numbers_get_the_correlation_asked_for() {
        JointDistribution joint = JointDistribution.correlated(
                List.of(new Distribution.Normal(0, 1), new Distribution.Normal(5, 2)),
                new double[][] {{1, -0.7}, {-0.7, 1}});
        SobolPoints points = new SobolPoints(2, 3);
        int n = 8192;
        double product = 0;
        for (int i = 0; i < n; i++) {
            double[] values = joint.values(points.point(i));
            product += values[0] * (values[1] - 5) / 2 / n;
        }
        assertThat(product).isCloseTo(-0.7, within(0.01));
    }

    @Test
    void correlations_that_cannot_be_are_refused() {
        List<Distribution> three =
                List.of(new Distribution.Normal(0, 1), new Distribution.Normal(0, 1), new Distribution.Normal(0, 1));

        assertThatThrownBy(() -> JointDistribution.correlated(
                        three, new double[][] {{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}}))
                .hasMessageContaining("positive definite");
    }

    /** Exact 95 % intervals by quantiles of the beta distribution of SciPy 1.17. */
    @ParameterizedTest
    @CsvSource({
        "0, 20, 0, 0.168433",
        "3, 100, 0.006230, 0.085176",
        "27, 1000, 0.017867, 0.039042",
        "20, 20, 0.831567, 1"
    })
    void a_share_of_samples_has_its_exact_interval(int hits, int samples, double least, double most) {
        ShareInterval interval = ShareInterval.exact(hits, samples, 0.95);

        assertThat(interval.least()).isCloseTo(least, within(1e-6));
        assertThat(interval.most()).isCloseTo(most, within(1e-6));
    }
}
