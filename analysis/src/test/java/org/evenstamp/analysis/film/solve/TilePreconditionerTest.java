package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ProjectedCg;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TilePreconditionerTest {
    private static final double PITCH = 40e-6;

    /** A film of random full and unfilled patches under a silicon plate, its flow as large as asked. */
    private static final class Case {
        final TileGrid grid;
        final StampCompliance stamp;
        final TileFlow flow;
        final double[] yield;
        final boolean[] active;
        private final boolean[] full;

        Case(int columns, int rows, long seed, double flowOverStamp, double contrast, ThreadTeam team) {
            grid = new TileGrid(0, 0, PITCH, columns, rows);
            SolverInput input = SolverInput.of(grid, 250e-9, PressLoad.constant(1e4, 5e6, 300))
                    .stamp(new Stamp.Plate(130e9, 0.28, 525e-6), Surround.PERIODIC)
                    .build();
            stamp = new StampCompliance(input.stamp, grid, Surround.PERIODIC, team);
            double typical = Arrays.stream(stamp.tileSymbol()).average().orElseThrow();
            SplittableRandom random = new SplittableRandom(seed);
            int size = grid.size();
            yield = new double[size];
            full = new boolean[size];
            active = new boolean[size];
            GapMobility mobility = new GapMobility(input);
            double[] cubed = mobility.cubedX;
            for (int i = 0; i < size; i++) {
                int patch = grid.column(i) * 4 / columns + 4 * (grid.row(i) * 4 / rows);
                full[i] = patch % 3 != 1;
                active[i] = random.nextInt(20) > 0;
                full[i] &= active[i];
                yield[i] = full[i] ? 0.05 * typical : typical * Math.pow(10, 2 * random.nextDouble());
                // Gaps that differ from patch to patch, so cubed gaps by the contrast.
                cubed[i] = flowOverStamp * typical * Math.pow(contrast, patch % 4 / 3.0);
            }
            flow = new TileFlow(input);
            System.arraycopy(cubed, 0, mobility.cubedY, 0, size);
            flow.begin(PITCH * PITCH, mobility, full);
            flow.connect(full, full, 0, rows);
        }

        void apply(double[] in, double[] out) {
            stamp.apply(in, out);
            flow.addTo(out, in, 0, grid.rows());
            for (int i = 0; i < out.length; i++) {
                out[i] = active[i] ? out[i] + yield[i] * in[i] : 0;
            }
        }

        int iterations(ThreadTeam team, long seed) {
            TilePreconditioner preconditioner = new TilePreconditioner(stamp, grid, team);
            preconditioner.prepare(yield, flow, active);
            double[] ones = new double[grid.size()];
            double[] load =
                    new SplittableRandom(seed).doubles(grid.size(), -1e-9, 1e-9).toArray();
            for (int i = 0; i < ones.length; i++) {
                ones[i] = active[i] ? 1 : 0;
                load[i] *= ones[i];
            }
            ProjectedCg.Report report = new ProjectedCg(grid.size(), team)
                    .solve(
                            this::apply,
                            preconditioner::apply,
                            new double[][] {ones},
                            load,
                            new double[grid.size()],
                            1e-3,
                            1000,
                            () -> {});
            assertThat(report.converged()).isTrue();
            return report.iterations();
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void it_is_symmetric_and_positive(long seed) {
        try (ThreadTeam team = new ThreadTeam(2)) {
            Case film = new Case(30, 70, seed, 3, 100, team);
            TilePreconditioner preconditioner = new TilePreconditioner(film.stamp, film.grid, team);
            preconditioner.prepare(film.yield, film.flow, film.active);
            SplittableRandom random = new SplittableRandom(seed);
            double[] u = random.doubles(film.grid.size(), -1, 1).toArray();
            double[] v = random.doubles(film.grid.size(), -1, 1).toArray();
            double[] mu = new double[u.length];
            double[] mv = new double[u.length];
            preconditioner.apply(u, mu);
            preconditioner.apply(v, mv);
            double scale = Math.sqrt(dot(u, mu) * dot(v, mv));
            assertThat(dot(u, mv)).isCloseTo(dot(v, mu), within(1e-12 * scale));
            assertThat(dot(u, mu)).isPositive();
            for (int i = 0; i < mu.length; i++) {
                assertThat(mu[i] == 0).isEqualTo(!film.active[i]);
            }
        }
    }

    @Test
    void the_factor_times_its_transpose_agrees_with_the_flow_on_tiles_and_between_neighbours_of_a_strip() {
        int columns = 5;
        int rows = 40;
        double alpha = 1e-15;
        try (ThreadTeam team = new ThreadTeam(1)) {
            Case film = new Case(columns, rows, 5, 30, 100, team);
            int size = film.grid.size();
            double[] weight = new SplittableRandom(6).doubles(size, 0.1, 1).toArray();
            FlowFactor factor = new FlowFactor(film.grid, team);
            factor.prepare(alpha, film.flow, weight);
            // W N⁻ᵀ N⁻¹ W, inverted densely, is to have the flow's entries.
            double[][] inverse = new double[size][size];
            for (int i = 0; i < size; i++) {
                double[] unit = new double[size];
                double[] half = new double[size];
                unit[i] = 1;
                factor.solve(unit, half, 0, factor.strips());
                factor.solveTransposed(half, new double[size], unit, inverse[i], 0, factor.strips());
            }
            RealMatrix product = MatrixUtils.inverse(MatrixUtils.createRealMatrix(inverse));
            for (int i = 0; i < size; i++) {
                double[] unit = new double[size];
                double[] column = new double[size];
                unit[i] = 1;
                film.flow.addTo(column, unit, 0, rows);
                column[i] += alpha;
                double own = column[i];
                boolean endsRow = film.grid.column(i) == columns - 1;
                boolean endsStrip = film.grid.row(i) % 32 == 31 || film.grid.row(i) == rows - 1;
                assertEntry(product, weight, i, i, own, own);
                if (!endsRow) {
                    assertEntry(product, weight, i, i + 1, column[i + 1], own);
                }
                if (!endsStrip) {
                    assertEntry(product, weight, i, i + columns, column[i + columns], own);
                }
            }
        }
    }

    private static void assertEntry(RealMatrix product, double[] weight, int i, int j, double expected, double scale) {
        assertThat(product.getEntry(i, j) * weight[i] * weight[j])
                .as("entry (%d, %d)", i, j)
                .isCloseTo(expected, within(1e-9 * scale));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e-6, 0.1, 1, 10, 1000})
    void flow_that_differs_a_thousandfold_costs_at_most_four_times_the_iterations(double flowOverStamp) {
        try (ThreadTeam team = new ThreadTeam(1)) {
            int even = new Case(64, 64, 7, flowOverStamp, 1, team).iterations(team, 8);
            int uneven = new Case(64, 64, 7, flowOverStamp, 1000, team).iterations(team, 8);
            assertThat(uneven).as("from %d", even).isLessThanOrEqualTo(4 * even);
        }
    }

    private static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }
}
