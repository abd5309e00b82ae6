package org.evenstamp.analysis.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.special.Erf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SlabTest {
    /** The other closed form (images; Crank, chapter 2, from memory): {@code 1 - 2 sum of (-1)^n erfc((2n+1)/(2 sqrt tau))}. */
    @ParameterizedTest
    @ValueSource(doubles = {0.004, 0.006, 0.02, 0.1, 0.3, 1, 2})
    void the_series_of_cosines_is_that_of_images(double tau) {
        double images = 1;
        for (int n = 0; n < 40; n++) {
            images -= (n % 2 == 0 ? 2 : -2) * Erf.erfc((2 * n + 1) / (2 * Math.sqrt(tau)));
        }
        assertThat(Slab.middle(tau)).isCloseTo(images, within(1e-13));
    }

    /** Crank (1975), chapter 10: half of a sheet's uptake is at D t/l² = -ln[x - x^9/9]/pi², x = pi²/16, of the whole thickness l: 0.04919, off by a ten-thousandth (from memory). */
    @Test
    void half_has_left_when_the_handbook_says() {
        assertThat(Slab.whenMean(0.5) / 4).isCloseTo(0.04919, within(1e-5));
    }

    /** What flows out of the faces is what the mean loses: the flux of each cosine integrated by itself, not the mean's own series. */
    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.05, 0.2, 1})
    void the_balance_of_what_leaves_and_what_is_left_closes(double tau) {
        double left = 0;
        double gone = 0;
        for (int n = 20000; n >= 0; n--) {
            double k = (2 * n + 1) * Math.PI / 2;
            gone += 2 / (k * k) * -Math.expm1(-k * k * tau);
        }
        // the sum of 2/k² over all n is 1; what the cut series lacks of it has left too
        double cut = 1;
        for (int n = 20000; n >= 0; n--) {
            double k = (2 * n + 1) * Math.PI / 2;
            cut -= 2 / (k * k);
        }
        left += Slab.mean(tau);
        assertThat(left + gone + cut).isCloseTo(1, within(1e-10));
    }

    /** Finite volumes: 400 cells on half of the slab, implicit in the middle of each step; they lose nothing to 1e-12. */
    @Test
    void a_slab_cut_into_cells_dries_alike_and_loses_nothing() {
        int cells = 400;
        double step = 1e-4;
        double[] share = new double[cells];
        java.util.Arrays.fill(share, 1);
        double gone = 0;
        double h = 1.0 / cells;
        for (int s = 1; s <= 3000; s++) {
            gone += step(share, step, h);
            double mean = java.util.Arrays.stream(share).average().orElseThrow();
            assertThat(mean + gone).isCloseTo(1, within(1e-10));
            if (s % 1000 == 0) {
                assertThat(share[cells - 1]).isCloseTo(Slab.middle(s * step), within(3e-5));
                assertThat(mean).isCloseTo(Slab.mean(s * step), within(3e-5));
            }
        }
    }

    /** One backward step of cells from the open face (first) to the middle (last), four times as fine; returns what has left. */
    private static double step(double[] share, double step, double h) {
        int parts = 8;
        double gone = 0;
        for (int p = 0; p < parts; p++) {
            double r = step / parts / (h * h);
            int n = share.length;
            double[] lower = new double[n];
            double[] right = new double[n];
            for (int i = 0; i < n; i++) {
                double diagonal = 1 + (i == 0 ? 3 * r : i == n - 1 ? r : 2 * r);
                double before = i == 0 ? 0 : -r;
                double pivot = diagonal - (i == 0 ? 0 : before * lower[i - 1]);
                lower[i] = -r / pivot;
                right[i] = (share[i] - (i == 0 ? 0 : before * right[i - 1])) / pivot;
            }
            for (int i = n - 1; i >= 0; i--) {
                share[i] = right[i] - (i == n - 1 ? 0 : lower[i] * share[i + 1]);
            }
            gone += 2 * r * share[0] * h;
        }
        return gone;
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.999, 0.7, 0.3, 0.01, 1e-6})
    void the_time_to_a_share_gives_that_share(double share) {
        assertThat(Slab.middle(Slab.whenMiddle(share))).isCloseTo(share, within(1e-13));
        assertThat(Slab.mean(Slab.whenMean(share))).isCloseTo(share, within(1e-13));
    }
}
