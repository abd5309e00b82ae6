package org.evenstamp.geometry.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LandSolverTest {
    @ParameterizedTest
    @CsvSource({"25, 15, true", "24, 15, false", "25, 1, true", "40, 33, true", "17, 64, false"})
    void a_strip_between_two_cavities_is_a_parabola(int across, int along, boolean periodic) {
        // Columns 0 and 1 are cavity: land of width w = across - 2, whose integral of u is w^3 / 12 a row.
        double[] land = new double[across * along];
        for (int i = 0; i < land.length; i++) {
            land[i] = i % across < 2 ? 0 : 1;
        }
        LandSolver solver = new LandSolver(across, along, land, new double[land.length], periodic, periodic, 1);
        solver.solve(new Progress().stage("land", 0, "iterations"));

        double width = across - 2;
        double[] sums = new double[along];
        for (int i = 0; i < land.length; i++) {
            sums[i / across] += solver.integral(i % across, i / across);
        }
        // Without a repeat nothing passes the rim: the strip is half of one twice as wide.
        double expected = periodic ? Math.pow(width, 3) / 12 : Math.pow(2 * width, 3) / 24;
        assertThat(solver.converged()).isTrue();
        for (double sum : sums) {
            assertThat(sum).isCloseTo(expected, within(1e-7 * expected));
        }
    }

    @Test
    void threads_do_not_change_a_bit() {
        int side = 801; // odd, and enough cells to be shared out
        SplittableRandom random = new SplittableRandom(7);
        double[] land = new double[side * side];
        Arrays.fill(land, 1);
        for (int n = 0; n < 600; n++) {
            int first = random.nextInt(land.length - 30 * side);
            for (int row = 0; row < random.nextInt(1, 30); row++) {
                Arrays.fill(land, first + row * side, first + row * side + 20, 0);
            }
        }
        assertThat(integrals(side, land, 3)).isEqualTo(integrals(side, land, 1));
    }

    private static double[] integrals(int side, double[] land, int threads) {
        LandSolver solver = new LandSolver(side, side, land, new double[land.length], true, false, threads);
        solver.solve(new Progress().stage("land", 0, "iterations"));
        assertThat(solver.converged()).isTrue();
        double[] integrals = new double[land.length];
        for (int i = 0; i < land.length; i++) {
            integrals[i] = solver.integral(i % side, i / side);
        }
        return integrals;
    }
}
