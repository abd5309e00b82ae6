package org.evenstamp.analysis.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Test;

/** Against functions whose indices have closed forms. */
class SobolIndicesTest {
    private static SobolIndices of(int inputs, int n, ToDoubleFunction<double[]> function) {
        SobolPoints points = new SobolPoints(2 * inputs, 11);
        double[] a = new double[n];
        double[] b = new double[n];
        double[][] mixed = new double[inputs][n];
        for (int i = 0; i < n; i++) {
            a[i] = function.applyAsDouble(SobolIndices.point(points, i, -2));
            b[i] = function.applyAsDouble(SobolIndices.point(points, i, -1));
            for (int k = 0; k < inputs; k++) {
                mixed[k][i] = function.applyAsDouble(SobolIndices.point(points, i, k));
            }
        }
        return SobolIndices.of(a, b, mixed, 1);
    }

    private static double ishigami(double[] u) {
        double x = Math.PI * (2 * u[0] - 1);
        double y = Math.PI * (2 * u[1] - 1);
        double z = Math.PI * (2 * u[2] - 1);
        return Math.sin(x) + 7 * Math.pow(Math.sin(y), 2) + 0.1 * Math.pow(z, 4) * Math.sin(x);
    }

    /** Ishigami's function, a = 7, b = 0.1: closed forms. */
    @Test
    void the_ishigami_function_has_its_indices() {
        SobolIndices found = of(3, 8192, SobolIndicesTest::ishigami);
        double[] first = {0.313905191, 0.442411145, 0};
        double[] total = {0.557588855, 0.442411145, 0.243683664};

        assertThat(found.variance()).isCloseTo(13.844587940719, within(0.15));
        for (int k = 0; k < 3; k++) {
            assertThat(found.first().get(k).value()).isCloseTo(first[k], within(0.01));
            assertThat(found.total().get(k).value()).isCloseTo(total[k], within(0.01));
        }
    }

    /** Sobol's g-function with a = 0, 1, 4.5, 9, 99, 99, 99, 99: closed forms. */
    @Test
    void the_g_function_has_its_indices() {
        double[] a = {0, 1, 4.5, 9, 99, 99, 99, 99};
        SobolIndices found = of(8, 8192, u -> {
            double product = 1;
            for (int k = 0; k < a.length; k++) {
                product *= (Math.abs(4 * u[k] - 2) + a[k]) / (1 + a[k]);
            }
            return product;
        });
        double[] first = {0.716192, 0.179048, 0.023676, 0.007162, 7.2e-5, 7.2e-5, 7.2e-5, 7.2e-5};
        double[] total = {0.787144, 0.242198, 0.034317, 0.010460, 1.05e-4, 1.05e-4, 1.05e-4, 1.05e-4};
        for (int k = 0; k < a.length; k++) {
            assertThat(found.first().get(k).value()).isCloseTo(first[k], within(0.01));
            assertThat(found.total().get(k).value()).isCloseTo(total[k], within(0.01));
        }
    }

    @Test
    void intervals_hold_the_truth_and_narrow_with_the_samples() {
        SobolIndices few = of(3, 256, SobolIndicesTest::ishigami);
        SobolIndices many = of(3, 4096, SobolIndicesTest::ishigami);
        double width = few.total().get(0).most() - few.total().get(0).least();

        assertThat(few.total().get(0).least()).isLessThan(0.5576);
        assertThat(few.total().get(0).most()).isGreaterThan(0.5576);
        assertThat(many.total().get(0).most() - many.total().get(0).least()).isLessThan(width / 2.5);
    }

    @Test
    void an_answer_that_does_not_vary_has_no_indices() {
        assertThatThrownBy(() -> of(2, 16, u -> 3)).hasMessageContaining("does not vary");
    }
}
