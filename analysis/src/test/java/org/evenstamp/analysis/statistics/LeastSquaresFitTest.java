package org.evenstamp.analysis.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Stream;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@SuppressWarnings("ArrayRecordComponent") // tables of numbers that nothing compares
class LeastSquaresFitTest {
    /** A model given by a formula; its slopes by central differences. */
    private record Formula(double[] x, ToDoubleBiFunction<double[], Double> law) implements LeastSquaresFit.Model {
        @Override
        public double[] predictions(double[] values) {
            return Arrays.stream(x).map(at -> law.applyAsDouble(values, at)).toArray();
        }

        @Override
        public double[][] slopes(double[] values) {
            double[][] slopes = new double[x.length][values.length];
            for (int k = 0; k < values.length; k++) {
                double step = 1e-6 * Math.max(Math.abs(values[k]), 1e-8);
                double[] up = values.clone();
                double[] down = values.clone();
                up[k] += step;
                down[k] -= step;
                for (int i = 0; i < x.length; i++) {
                    slopes[i][k] = (law.applyAsDouble(up, x[i]) - law.applyAsDouble(down, x[i])) / (2 * step);
                }
            }
            return slopes;
        }
    }

    private record Certified(
            String name,
            Formula formula,
            double[] y,
            double[] start,
            double[] values,
            double[] errors,
            double sumOfSquares) {
        @Override
        public String toString() {
            return name + " from " + Arrays.toString(start);
        }
    }

    private static final double[] MISRA_X = {
        77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0
    };
    private static final double[] MISRA_Y = {
        10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78
    };
    private static final double[] MGH_X = {4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625};
    private static final double[] MGH_Y = {
        0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246
    };
    private static final double[] THURBER_X = {
        -3.067, -2.981, -2.921, -2.912, -2.840, -2.797, -2.702, -2.699, -2.633, -2.481, -2.363, -2.322, -1.501, -1.460,
        -1.274, -1.212, -1.100, -1.046, -0.915, -0.714, -0.566, -0.545, -0.400, -0.309, -0.109, -0.103, 0.010, 0.119,
        0.377, 0.790, 0.963, 1.006, 1.115, 1.572, 1.841, 2.047, 2.200
    };
    private static final double[] THURBER_Y = {
        80.574, 84.248, 87.264, 87.195, 89.076, 89.608, 89.868, 90.101, 92.405, 95.854, 100.696, 101.060, 401.672,
        390.724, 567.534, 635.316, 733.054, 759.087, 894.206, 990.785, 1090.109, 1080.914, 1122.643, 1178.351, 1260.531,
        1273.514, 1288.339, 1327.543, 1353.863, 1414.509, 1425.208, 1421.384, 1442.962, 1464.350, 1468.705, 1447.894,
        1457.628
    };

    /** NIST Statistical Reference Datasets, nonlinear regression: Misra1a, MGH09, Thurber; both starts, certified values. */
    static Stream<Certified> certified() {
        Formula misra = new Formula(MISRA_X, (b, x) -> b[0] * (1 - Math.exp(-b[1] * x)));
        Formula mgh = new Formula(MGH_X, (b, x) -> b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]));
        Formula thurber = new Formula(
                THURBER_X,
                (b, x) -> (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6]))));
        double[] misraValues = {238.94212918, 5.5015643181e-4};
        double[] misraErrors = {2.7070075241, 7.2668688436e-6};
        double[] mghValues = {0.19280693458, 0.19128232873, 0.12305650693, 0.13606233068};
        double[] mghErrors = {0.011435312227, 0.19633220911, 0.080842031232, 0.090025542308};
        double[] thurberValues = {
            1288.1396800, 1491.0792535, 583.23836877, 75.416644291, 0.96629502864, 0.39797285797, 0.049727297349
        };
        double[] thurberErrors = {
            4.6647963344, 39.571156086, 28.698696102, 5.5675370270, 0.031333340687, 0.014984928198, 0.0065842344623
        };
        return Stream.of(
                new Certified(
                        "Misra1a", misra, MISRA_Y, new double[] {500, 1e-4}, misraValues, misraErrors, 0.12455138894),
                new Certified(
                        "Misra1a", misra, MISRA_Y, new double[] {250, 5e-4}, misraValues, misraErrors, 0.12455138894),
                new Certified(
                        "MGH09",
                        mgh,
                        MGH_Y,
                        new double[] {0.25, 0.39, 0.415, 0.39},
                        mghValues,
                        mghErrors,
                        3.0750560385e-4),
                new Certified(
                        "Thurber",
                        thurber,
                        THURBER_Y,
                        new double[] {1000, 1000, 400, 40, 0.7, 0.3, 0.03},
                        thurberValues,
                        thurberErrors,
                        5642.7082397),
                new Certified(
                        "Thurber",
                        thurber,
                        THURBER_Y,
                        new double[] {1300, 1500, 500, 75, 1, 0.4, 0.05},
                        thurberValues,
                        thurberErrors,
                        5642.7082397));
    }

    @ParameterizedTest
    @MethodSource("certified")
    void certified_problems_get_their_certified_values(Certified problem) {
        int m = problem.y().length;
        int n = problem.start().length;
        double deviation = Math.sqrt(problem.sumOfSquares() / (m - n));
        double[] deviations = new double[m];
        Arrays.fill(deviations, deviation);
        List<LeastSquaresFit.Free> free = new ArrayList<>();
        for (int k = 0; k < n; k++) {
            free.add(LeastSquaresFit.Free.unbounded("b" + (k + 1), problem.start()[k]));
        }

        LeastSquaresFit.Result found = LeastSquaresFit.fit(problem.formula(), problem.y(), deviations, free, 1e-12);

        for (int k = 0; k < n; k++) {
            double value = problem.values()[k];
            assertThat(found.value(k)).as("b%s", k + 1).isCloseTo(value, within(1e-5 * Math.abs(value)));
            assertThat(found.error(k))
                    .as("error of b%s", k + 1)
                    .isCloseTo(problem.errors()[k], within(1e-4 * problem.errors()[k]));
        }
        assertThat(found.chiSquare() * deviation * deviation)
                .isCloseTo(problem.sumOfSquares(), within(1e-8 * problem.sumOfSquares()));
        assertThat(found.freedom()).isEqualTo(m - n);
    }

    /** A straight line through 12 noisy points: its 95 % interval misses the truth in about 5 of 100 seeds. */
    @Test
    void intervals_miss_the_truth_as_often_as_they_should() {
        int missed = 0;
        for (long seed = 1; seed <= 400; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            double[] x = new double[12];
            double[] y = new double[12];
            double[] deviations = new double[12];
            for (int i = 0; i < 12; i++) {
                x[i] = i;
                deviations[i] = 0.5;
                double score = Distribution.StandardNormal.quantile(random.nextDouble(1e-9, 1 - 1e-9));
                y[i] = 3 + 0.25 * i + 0.5 * score;
            }
            LeastSquaresFit.Result found = LeastSquaresFit.fit(
                    new Formula(x, (b, at) -> b[0] + b[1] * at),
                    y,
                    deviations,
                    List.of(LeastSquaresFit.Free.unbounded("a", 0), LeastSquaresFit.Free.unbounded("b", 0)),
                    1e-12);
            if (Math.abs(found.value(1) - 0.25) > Distribution.StandardNormal.TWO_SIDED_95 * found.error(1)) {
                missed++;
            }
        }
        // Binomial with chance 0.05 of 400: 20 expected, deviation 4.4; 4 deviations either way.
        assertThat(missed).isBetween(3, 37);
    }

    @Test
    void a_prior_counts_as_one_measurement() {
        LeastSquaresFit.Result found = LeastSquaresFit.fit(
                new Formula(new double[] {0}, (b, at) -> b[0]),
                new double[] {4},
                new double[] {1},
                List.of(new LeastSquaresFit.Free("a", 2, -10, 10, 1)),
                1e-12);

        assertThat(found.value(0)).isCloseTo(3, within(1e-9));
        assertThat(found.error(0)).isCloseTo(Math.sqrt(0.5), within(1e-9));
    }

    @Test
    void values_stay_within_their_bounds() {
        LeastSquaresFit.Result found = LeastSquaresFit.fit(
                new Formula(new double[] {0, 1}, (b, at) -> b[0]),
                new double[] {4, 6},
                new double[] {1, 1},
                List.of(new LeastSquaresFit.Free("a", 2, 0, 4.5, Double.POSITIVE_INFINITY)),
                1e-12);

        assertThat(found.value(0)).isCloseTo(4.5, within(1e-9));
    }

    @Test
    void too_few_measurements_and_such_that_tell_nothing_are_refused() {
        List<LeastSquaresFit.Free> two =
                List.of(LeastSquaresFit.Free.unbounded("a", 1), LeastSquaresFit.Free.unbounded("b", 1));

        assertThatThrownBy(() -> LeastSquaresFit.fit(
                        new Formula(new double[] {1}, (b, at) -> b[0] + b[1]),
                        new double[] {1},
                        new double[] {1},
                        two,
                        1e-12))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("do not determine");
        assertThatThrownBy(() -> LeastSquaresFit.fit(
                        new Formula(new double[] {1, 2, 3}, (b, at) -> b[0] + b[1]),
                        new double[] {1, 1, 1},
                        new double[] {1, 1, 1},
                        two,
                        1e-12))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("tell nothing");
    }
}
