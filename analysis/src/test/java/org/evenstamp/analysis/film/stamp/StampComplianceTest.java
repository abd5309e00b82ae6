package org.evenstamp.analysis.film.stamp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class StampComplianceTest {
    private static final double MODULUS = 130e9 / (1 - 0.278 * 0.278);

    private static double[] displacement(Stamp stamp, TileGrid grid, Surround surround, double[] load) {
        double[] out = new double[grid.size()];
        try (ThreadTeam team = new ThreadTeam(1)) {
            new StampCompliance(stamp, grid, surround, team).apply(load, out);
        }
        return out;
    }

    @Test
    void a_pressure_wave_moves_the_face_by_the_compliance_of_its_wavenumber() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 48, 36);
        Stamp stamp = new Stamp.Plate(130e9, 0.278, 525e-6);
        double kx = 2 * Math.PI * 3 / (48 * 1e-4);
        double ky = 2 * Math.PI * 2 / (36 * 1e-4);
        double[] wave = new double[grid.size()];
        for (int i = 0; i < wave.length; i++) {
            wave[i] = 1e6 * Math.cos(kx * grid.column(i) * 1e-4 - ky * grid.row(i) * 1e-4);
        }
        double[] moved = displacement(stamp, grid, Surround.PERIODIC, wave);
        double compliance = stamp.compliance(Math.hypot(kx, ky));
        for (int i = 0; i < wave.length; i++) {
            assertThat(moved[i]).isCloseTo(compliance * wave[i], within(1e-12 * compliance * 1e6));
        }
    }

    // Uniform pressure on a half-space, coefficients c in w = c p a/E* (disc) and c p L/E* (square): K.L. Johnson,
    // Contact
    // Mechanics (1985), ch. 3 (bibliography from memory); the numbers were derived and evaluated.
    @Test
    void uniform_pressure_on_a_square_sinks_an_isolated_half_space_by_the_closed_form() {
        int n = 33;
        double pitch = 1e-5;
        TileGrid grid = new TileGrid(0, 0, pitch, 65, 49);
        double[] load = new double[grid.size()];
        for (int row = 8; row < 8 + n; row++) {
            for (int column = 16; column < 16 + n; column++) {
                load[grid.index(column, row)] = 1e6;
            }
        }
        double[] moved = displacement(new Stamp.HalfSpace(130e9, 0.278), grid, Surround.ISOLATED, load);
        double unit = 1e6 * n * pitch / MODULUS;
        assertThat(moved[grid.index(16 + n / 2, 8 + n / 2)] / unit).isCloseTo(1.12219970, within(1e-7));
        double mean = 0;
        for (int i = 0; i < load.length; i++) {
            mean += load[i] * moved[i] / (1e6 * n * n);
        }
        // The mean over tile centres is a midpoint rule for the mean over the square.
        assertThat(mean / unit).isCloseTo(0.946402009, within(5e-4));
    }

    @Test
    void uniform_pressure_on_a_disc_sinks_an_isolated_half_space_by_the_closed_form() {
        int n = 101;
        double pitch = 1e-5;
        double radius = 40 * pitch;
        TileGrid grid = new TileGrid(0, 0, pitch, n, n);
        double[] load = new double[grid.size()];
        int fine = 16;
        for (int i = 0; i < load.length; i++) {
            for (int s = 0; s < fine * fine; s++) {
                double x = grid.column(i) - n / 2 + (s % fine + 0.5) / fine - 0.5;
                int fineRow = s / fine;
                double y = grid.row(i) - n / 2 + (fineRow + 0.5) / fine - 0.5;
                load[i] += Math.hypot(x, y) <= 40 ? 1e6 / (fine * fine) : 0;
            }
        }
        double[] moved = displacement(new Stamp.HalfSpace(130e9, 0.278), grid, Surround.ISOLATED, load);
        double unit = 1e6 * radius / MODULUS;
        int centre = n / 2;
        assertThat(moved[grid.index(centre, centre)] / unit).isCloseTo(2, within(2e-4));
        assertThat(moved[grid.index(centre + 10, centre)] / unit).isCloseTo(1.96837391, within(2e-4));
        assertThat(moved[grid.index(centre, centre + 20)] / unit).isCloseTo(1.86843092, within(2e-4));
        assertThat(moved[grid.index(centre - 30, centre)] / unit).isCloseTo(1.67873083, within(2e-4));
        assertThat(moved[grid.index(centre + 40, centre)] / unit).isCloseTo(4 / Math.PI, within(3e-3));
    }

    @ParameterizedTest
    @ValueSource(doubles = {2e-4, 1e-3, 5e-3})
    void an_isolated_plate_under_a_balanced_load_bends_as_a_periodic_one_far_from_its_images(double thickness) {
        // Five point loads in the pattern of a second difference in x and y: no force, no moment, no curvature. The
        // rigid
        // motion and the parabola that remain undetermined are compared away.
        Stamp stamp = new Stamp.Plate(130e9, 0.278, thickness);
        int n = 16;
        int far = 256;
        double pitch = 1e-4;
        TileGrid small = new TileGrid(0, 0, pitch, n, n);
        TileGrid large = new TileGrid(0, 0, pitch, far, far);
        double[] load = new double[n * n];
        double[] wide = new double[far * far];
        int[][] points = {
            {0, 0, 4}, {3, 0, -2}, {-3, 0, -2}, {0, 3, -2}, {0, -3, -2}, {3, 3, 1}, {3, -3, 1}, {-3, 3, 1}, {-3, -3, 1}
        };
        for (int[] point : points) {
            load[small.index(8 + point[0], 8 + point[1])] = point[2] * 1e6;
            wide[large.index(8 + point[0], 8 + point[1])] = point[2] * 1e6;
        }
        double[] isolated = displacement(stamp, small, Surround.ISOLATED, load);
        double[] periodic = displacement(stamp, large, Surround.PERIODIC, wide);
        double scale = 0;
        double shift = 0;
        for (int i = 0; i < n * n; i++) {
            double there = periodic[large.index(small.column(i), small.row(i))];
            scale = Math.max(scale, Math.abs(there));
            shift += (isolated[i] - there) / (n * n);
        }
        for (int i = 0; i < n * n; i++) {
            // A tile's pressure is a square in one and a band-limited spike in the other: they differ at the loads.
            boolean loaded = load[i] != 0;
            if (!loaded) {
                double there = periodic[large.index(small.column(i), small.row(i))];
                assertThat(isolated[i] - shift).isCloseTo(there, within(0.03 * scale));
            }
        }
    }

    @Test
    void an_isolated_layer_on_a_plate_yields_as_its_parts() {
        TileGrid grid = new TileGrid(0, 0, 2e-5, 20, 12);
        Stamp.BondedLayer layer = new Stamp.BondedLayer(2e6, 0.49, 3e-5);
        Stamp.Plate plate = new Stamp.Plate(70e9, 0.2, 5e-4);
        double[] load = new java.util.SplittableRandom(5).doubles(240).toArray();
        double[] both = displacement(new Stamp.LayerOnPlate(layer, plate), grid, Surround.ISOLATED, load);
        double[] soft = displacement(layer, grid, Surround.ISOLATED, load);
        double[] stiff = displacement(plate, grid, Surround.ISOLATED, load);
        for (int i = 0; i < load.length; i++) {
            assertThat(both[i]).isCloseTo(soft[i] + stiff[i], within(1e-9 * Math.abs(both[i])));
        }
    }

    @Test
    void an_isolated_bonded_layer_under_a_wide_pressure_is_an_oedometer_in_the_middle() {
        Stamp.BondedLayer layer = new Stamp.BondedLayer(2e6, 0.3, 3e-5);
        TileGrid grid = new TileGrid(0, 0, 1e-5, 61, 61);
        double[] load = new double[grid.size()];
        java.util.Arrays.fill(load, 1e4);
        double[] moved = displacement(layer, grid, Surround.ISOLATED, load);
        assertThat(moved[grid.index(30, 30)] / (1e4 * layer.uniformCompliance()))
                .isCloseTo(1, within(2e-3));
    }

    @Test
    void transform_sizes_have_small_factors() {
        assertThat(StampCompliance.fastSize(1)).isEqualTo(2);
        assertThat(StampCompliance.fastSize(255)).isEqualTo(256);
        assertThat(StampCompliance.fastSize(257)).isEqualTo(270);
    }
}
