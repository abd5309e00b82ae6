package org.evenstamp.analysis.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ProjectedCgTest {
    /** A random symmetric positive definite matrix. */
    private static double[] matrix(int n, SplittableRandom random) {
        double[] root = random.doubles((long) n * n, -1, 1).toArray();
        double[] a = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    a[i * n + j] += root[i * n + k] * root[j * n + k];
                }
            }
            a[i * n + i] += 0.1;
        }
        return a;
    }

    private static void multiply(double[] a, double[] in, double[] out) {
        int n = in.length;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += a[i * n + j] * in[j];
            }
            out[i] = sum;
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void the_solution_obeys_the_constraints_and_leaves_only_their_forces(long seed) {
        int n = 40;
        SplittableRandom random = new SplittableRandom(seed);
        double[] a = matrix(n, random);
        double[] b = random.doubles(n, -1, 1).toArray();
        double[][] constraints = {
            random.doubles(n, -1, 1).toArray(), random.doubles(n, -1, 1).toArray()
        };
        double[] x = new double[n];
        try (ThreadTeam team = new ThreadTeam(2)) {
            ProjectedCg.Report report = new ProjectedCg(n, team)
                    .solve(
                            (in, out) -> multiply(a, in, out),
                            (in, out) -> {
                                for (int i = 0; i < n; i++) {
                                    out[i] = in[i] / a[i * n + i];
                                }
                            },
                            constraints,
                            b,
                            x,
                            1e-12,
                            500,
                            () -> {});
            assertThat(report.converged()).isTrue();
        }
        // The residual is a combination of the constraints: take that off by least squares.
        double[] residual = new double[n];
        multiply(a, x, residual);
        double[] gram = new double[4];
        double[] amount = new double[2];
        for (int i = 0; i < n; i++) {
            residual[i] = b[i] - residual[i];
            for (int k = 0; k < 2; k++) {
                amount[k] += constraints[k][i] * residual[i];
                for (int l = 0; l < 2; l++) {
                    gram[2 * k + l] += constraints[k][i] * constraints[l][i];
                }
            }
        }
        new SmallCholesky(gram, 2).solve(amount);
        for (int k = 0; k < 2; k++) {
            double sum = 0;
            for (int i = 0; i < n; i++) {
                sum += constraints[k][i] * x[i];
            }
            assertThat(sum).isCloseTo(0, within(1e-11));
        }
        for (int i = 0; i < n; i++) {
            assertThat(residual[i] - amount[0] * constraints[0][i] - amount[1] * constraints[1][i])
                    .isCloseTo(0, within(1e-9));
        }
    }

    @Test
    void a_budget_that_is_too_small_is_reported() {
        int n = 60;
        double[] a = matrix(n, new SplittableRandom(9));
        double[] b = new SplittableRandom(10).doubles(n).toArray();
        try (ThreadTeam team = new ThreadTeam(1)) {
            ProjectedCg.Report report = new ProjectedCg(n, team)
                    .solve(
                            (in, out) -> multiply(a, in, out),
                            (in, out) -> System.arraycopy(in, 0, out, 0, n),
                            new double[0][],
                            b,
                            new double[n],
                            1e-10,
                            3,
                            () -> {});
            assertThat(report.converged()).isFalse();
            assertThat(report.iterations()).isEqualTo(3);
        }
    }

    private static ProjectedCg.Report solve(
            ProjectedCg.Operator a, ProjectedCg.Operator m, double[][] constraints, double[] b, double[] x) {
        try (ThreadTeam team = new ThreadTeam(1)) {
            return new ProjectedCg(4, team).solve(a, m, constraints, b, x, 1e-9, 100, () -> {});
        }
    }

    private static ProjectedCg.Operator times(double... diagonal) {
        return (in, out) -> Arrays.setAll(out, i -> diagonal[i] * in[i]);
    }

    private static final ProjectedCg.Operator ONE = times(1, 1, 1, 1);

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void a_right_side_that_is_not_finite_is_refused(double wrong) {
        assertThatThrownBy(() -> solve(ONE, ONE, new double[0][], new double[] {1, wrong, 1, 1}, new double[4]))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("right side is " + wrong + " at 1");
    }

    @Test
    void arrays_of_another_length_are_refused() {
        double[] four = {1, 2, 3, 4};
        double[] three = {1, 2, 3};
        assertThatThrownBy(() -> solve(ONE, ONE, new double[0][], three, four))
                .hasMessageContaining("right side has 3 values, not 4");
        assertThatThrownBy(() -> solve(ONE, ONE, new double[0][], four, three))
                .hasMessageContaining("solution has 3 values, not 4");
        assertThatThrownBy(() -> solve(ONE, ONE, new double[][] {three}, four, new double[4]))
                .hasMessageContaining("constraint has 3 values, not 4");
    }

    /** The last one meets its negative direction in the second iteration only. */
    @ParameterizedTest
    @CsvSource({"-1, -1, -1, -1", "0, 0, 0, 0", "NaN, 1, 1, 1", "4, 3, 2, -1"})
    void an_operator_that_is_not_positive_is_refused(double a, double b, double c, double d) {
        assertThatThrownBy(
                        () -> solve(times(a, b, c, d), ONE, new double[0][], new double[] {1, 1, 1, 1}, new double[4]))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("operator is not positive");
    }

    @ParameterizedTest
    @CsvSource({"-1, -1, -1, -1", "0, 0, 0, 0", "NaN, 1, 1, 1", "1, 1, 1, -9"})
    void a_preconditioner_that_is_not_positive_is_refused(double a, double b, double c, double d) {
        assertThatThrownBy(
                        () -> solve(ONE, times(a, b, c, d), new double[0][], new double[] {1, 1, 1, 1}, new double[4]))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("preconditioner is not positive");
    }

    @Test
    void a_right_side_that_the_constraints_take_up_leaves_nothing_to_solve() {
        double[][] even = {{1, 1, 1, 1}};
        for (double height : new double[] {0, 1e-300, 0.1, 1 / 3.0, 1e300}) {
            double[] x = {1, 2, 3, 4};
            ProjectedCg.Report report =
                    solve(times(4, 3, 2, 1), ONE, even, new double[] {height, height, height, height}, x);
            assertThat(report.converged()).isTrue();
            assertThat(x).containsOnly(0);
        }
    }

    @Test
    void the_failure_of_a_team_member_reaches_the_caller() {
        try (ThreadTeam team = new ThreadTeam(2)) {
            assertThatThrownBy(() -> team.run(
                            (from, to, member) -> {
                                if (member == 1) {
                                    throw new IllegalStateException("theirs");
                                }
                            },
                            10))
                    .isInstanceOf(IllegalStateException.class)
                    .hasMessage("theirs");
        }
    }
}
