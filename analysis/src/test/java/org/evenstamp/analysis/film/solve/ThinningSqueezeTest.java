package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A thinning film under a strip, against the flow between plates integrated across the gap and along the strip: at a wall
 * stress τ_w the mean speed is {@code h/(2 τ_w²) ∫ τ γ̇(τ) dτ} from 0 to τ_w (Rabinowitsch's integral for a slit), and the
 * pressure falls by {@code 2 τ_w/h} per length.
 */
class ThinningSqueezeTest {
    private static final double REST = 1e4; // Pa s
    private static final double CRITICAL = 3e4; // Pa
    private static final double WIDTH = 10e-6;
    private static final double GAP = 200e-9;
    private static final int CELLS = 60;

    @ParameterizedTest(name = "exponent {0}, {1} times the critical stress at the rim")
    @CsvSource({"0.3, 0.1, 2", "0.3, 3, 3", "0.3, 30, 2", "0.5, 1, 2", "0.5, 30, 3", "0.7, 10, 2", "0.21, 10, 11"})
    void a_thinning_film_is_squeezed_out_as_fast_as_between_plates(double exponent, double over, double percent) {
        ShearThinning law = new ShearThinning.Cross(CRITICAL, exponent);
        double speed = meanSpeed(law, over * CRITICAL) * GAP / (WIDTH / 2); // of the stamp
        double load = 0; // pressure on the strip, mean of p = ∫ 2 τ_w/h dx
        for (int k = 0; k < CELLS; k++) {
            double x = (k + 0.5) / CELLS * WIDTH / 2;
            double stress = wallStress(law, speed * x / GAP, over * CRITICAL);
            load += 2 * stress / GAP * x / CELLS;
        }
        double apparent = load * Math.pow(GAP, 3) / (WIDTH * WIDTH * speed);

        double seconds = 0.004 * GAP / speed;
        double land = 0.5;
        TileGrid grid = new TileGrid(0, 0, 1e-4, 1, 1);
        SolverInput input = SolverInput.of(grid, GAP, PressLoad.constant(REST, load * land, seconds))
                .relief(new double[] {1e-6}, new double[] {1 - land}, new double[] {land * WIDTH * WIDTH})
                .thinning(law)
                .build();
        double h = FilmRun.of(input).gap[0];
        // Stefan: 1/h² - 1/h0² = 2 p t/(η w²)
        double solved = 2 * load * seconds / (WIDTH * WIDTH * (1 / (h * h) - 1 / (GAP * GAP)));
        assertThat(solved).isCloseTo(apparent, withinPercentage(percent));
        assertThat(solved).isLessThan(REST);
    }

    @ParameterizedTest(name = "exponent {0}, {1} times the critical stress at the mouth of the front''s last place")
    @CsvSource({"0.3, 0.1, 1", "0.3, 0.3, 2", "0.3, 1, 7", "0.5, 3, 2", "0.7, 10, 2"})
    void a_thinning_film_fills_a_channel_as_fast_as_between_plates(double exponent, double over, double percent) {
        // Pressure p at the mouth, the front at x: wall stress H p/(2 x), and depth x' = H times the mean speed.
        int n = 100;
        double length = 2e-3;
        double depth = GAP - 50e-9;
        double reach = 0.3 * length;
        double p = over * CRITICAL * 2 * reach / GAP;
        ShearThinning law = new ShearThinning.Cross(CRITICAL, exponent);
        double end = 0;
        int parts = 2000;
        for (int k = 0; k < parts; k++) {
            double x = (k + 0.5) / parts * reach;
            end += depth * reach / parts / (GAP * meanSpeed(law, GAP * p / (2 * x)));
        }
        TileGrid grid = new TileGrid(0, 0, length / n, n, 1);
        double[] all = new double[n];
        java.util.Arrays.fill(all, 1);
        SolverInput input = SolverInput.of(grid, 50e-9, PressLoad.constant(REST, 0, end))
                .relief(java.util.Arrays.stream(all).map(one -> depth).toArray(), all, new double[n])
                .stamp(new Stamp.Rigid(), Surround.ISOLATED)
                .openEdge(p, true, false)
                .heldHeight(t -> 50e-9)
                .bulkModulus(1e18)
                .thinning(law)
                .build();
        FilmRun run = FilmRun.of(input, new SolverOptions(1e-6, 1.1, 1e30, 1e-7, 60, 2000, 5000), 1);
        double reached = java.util.Arrays.stream(run.filled).sum() * grid.pitchMetres() / (2 * depth);
        assertThat(reached).isCloseTo(reach, withinPercentage(percent));
    }

    private static double meanSpeed(ShearThinning law, double wallStress) {
        double sum = 0;
        for (int k = 0; k < CELLS; k++) {
            double stress = (k + 0.5) / CELLS * wallStress;
            sum += stress * stress / law.underStress(REST, stress) / CELLS * wallStress;
        }
        return GAP / (2 * wallStress * wallStress) * sum;
    }

    private static double wallStress(ShearThinning law, double meanSpeed, double most) {
        double low = 0;
        double high = most;
        for (int n = 0; n < 40; n++) {
            double middle = (low + high) / 2;
            if (meanSpeed(law, middle) < meanSpeed) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }
}
