package org.evenstamp.analysis.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.junit.jupiter.api.Test;

class WindowTest {
    private static final ThreadTeam ALONE = new ThreadTeam(1);

    private static List<Window> windows() {
        return List.of(
                new BoxWindow(9, 7, 3, false),
                new BoxWindow(9, 7, 4, true),
                new BoxWindow(5, 5, 5, true),
                new GaussianWindow(9, 7, 1.3, false, ALONE),
                new GaussianWindow(8, 6, 0.7, true, ALONE));
    }

    @Test
    void spreading_is_the_transpose_of_averaging() {
        SplittableRandom dice = new SplittableRandom(5);
        for (Window window : windows()) {
            double[] x = dice.doubles(window.tiles()).toArray();
            double[] y = dice.doubles(window.windows()).toArray();
            double[] kx = new double[y.length];
            double[] ky = new double[x.length];
            window.average(x, kx);
            window.spread(y, ky);
            assertThat(dot(x, ky)).isCloseTo(dot(kx, y), within(1e-12 * x.length));
        }
    }

    @Test
    void an_even_map_stays_even_and_its_slope_vanishes() {
        for (Window window : windows()) {
            double[] even = new double[window.tiles()];
            Arrays.fill(even, 3);
            double[] averages = new double[window.windows()];
            window.average(even, averages);
            assertThat(averages).usingComparatorWithPrecision(1e-12).containsOnly(3);
            double[] slope = new double[even.length];
            window.slope(even, slope, averages);
            assertThat(slope).usingComparatorWithPrecision(1e-12).containsOnly(0);
        }
    }

    @Test
    void the_slope_of_the_gaussian_is_the_general_one() {
        SplittableRandom dice = new SplittableRandom(6);
        for (boolean periodic : new boolean[] {true, false}) {
            GaussianWindow fast = new GaussianWindow(10, 8, 1.1, periodic, ALONE);
            double[] x = dice.doubles(80).toArray();
            double[] slope = new double[80];
            fast.slope(x, slope, new double[80]);
            double[] averages = new double[80];
            fast.average(x, averages);
            double mean = Arrays.stream(averages).average().orElse(0);
            double[] general = new double[80];
            fast.spread(Arrays.stream(averages).map(a -> a - mean).toArray(), general);
            assertThat(slope).usingComparatorWithPrecision(1e-12).containsExactly(general);
        }
    }

    @Test
    void a_gaussian_is_as_wide_as_asked() {
        int n = 64;
        GaussianWindow window = new GaussianWindow(n, n, 3, true, ALONE);
        double[] point = new double[n * n];
        point[32 * n + 32] = 1;
        double[] spread = new double[n * n];
        window.average(point, spread);
        double second = 0;
        for (int i = 0; i < spread.length; i++) {
            second += spread[i] * (i % n - 32) * (i % n - 32);
        }
        assertThat(second).isCloseTo(9, within(1e-9));
    }

    /** Closed form for a layer much thinner than the wave: sqrt(2 M t/G), G the uniform compliance. */
    @Test
    void a_thin_soft_layer_has_the_length_of_its_uniform_compliance() {
        Stamp.BondedLayer layer = new Stamp.BondedLayer(1e9, 0.4, 1e-6);
        double gap = 200e-9;
        double spreading = gap * gap * gap / (12 * 3e3) * 120;
        double length = FlowWindow.lengthMetres(layer, gap, 3e3, 120, 1);
        assertThat(length).isCloseTo(Math.sqrt(2 * spreading / layer.uniformCompliance()), within(1e-4 * length));
    }

    /** Kirchhoff's plate: exp(-M k² t D k⁴), one half at k⁶ = 1/(2 M D t). */
    @Test
    void a_plate_evens_out_as_far_as_its_bending_carries() {
        Stamp.Plate plate = new Stamp.Plate(130e9, 0.28, 50e-6);
        double gap = 100e-9;
        double spreading = gap * gap * gap / 12 * 300;
        double length = FlowWindow.lengthMetres(plate, gap, 1, 300, 10);
        double kirchhoff = Math.pow(2 * spreading * plate.bendingStiffness(), 1 / 6.0);
        assertThat(length).isCloseTo(kirchhoff, within(0.1 * kirchhoff));
        assertThat(length).isGreaterThan(3 * 50e-6);
        assertThat(FlowWindow.lengthMetres(new Stamp.Rigid(), gap, 1, 300, 0.01))
                .isEqualTo(0.01);
    }

    private static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }
}
