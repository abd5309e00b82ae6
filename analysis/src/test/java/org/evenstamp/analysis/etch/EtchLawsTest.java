package org.evenstamp.analysis.etch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class EtchLawsTest {
    /** Worked figures, definitions of common fab practice: 58/44 with mean 50 nm. */
    @Test
    void the_measures_of_evenness_differ_and_are_named() {
        Uniformity u = new Uniformity(44e-9, 58e-9, 50e-9, 4e-9);
        assertThat(u.halfRangeOverMean()).isCloseTo(0.14, within(1e-12));
        assertThat(u.rangeOverSum()).isCloseTo(0.137254902, within(1e-9));
        assertThat(u.threeSigmaOverMean()).isCloseTo(0.24, within(1e-12));
        assertThat(u.overEtch()).isCloseTo(0.16, within(1e-12));
        assertThat(u.spread()).isCloseTo(14e-9, within(1e-20));
    }

    @Test
    void evenness_is_measured_over_the_population() {
        Uniformity u = Uniformity.of(new double[] {2, 4, 4, 4, 5, 5, 7, 9});
        assertThat(u).isEqualTo(new Uniformity(2, 9, 5, 2));
        assertThat(Uniformity.of(new double[] {0, 0}).threeSigmaOverMean()).isZero();
        assertThatThrownBy(() -> Uniformity.of(new double[0])).isInstanceOf(IllegalArgumentException.class);
    }

    /** Worked figures: rates 0.1 and 2 nm/s: anisotropy 0.95; 58 nm clear at 29 s, 2.9 nm lost at each side. */
    @Test
    void anisotropy_and_lateral_loss_follow_the_rates() {
        EtchRates rates = new EtchRates(2e-9, 0.1e-9, 0);
        assertThat(rates.anisotropy()).isCloseTo(0.95, within(1e-12));
        double clear = 58e-9 / rates.beforeClearing().vertical();
        assertThat(clear).isCloseTo(29, within(1e-9));
        assertThat(rates.beforeClearing().lateral() * clear).isCloseTo(2.9e-9, within(1e-18));
    }

    /** Worked figure (derived; convention from memory): 14 nm of recession at walls of 85 deg: 2.44968258 nm. */
    @Test
    void leaning_walls_lose_width_by_recession() {
        assertThat(2 * 14e-9 * EtchRates.cotangent(Math.toRadians(85)))
                .isCloseTo(2.44968258e-9, withinPercentage(1e-6));
        assertThat(EtchRates.cotangent(Math.toRadians(90))).isZero();
    }

    @Test
    void loading_slows_both_rates_alike() {
        EtchRates rates = new EtchRates(2, 0.1, 0.5);
        assertThat(rates.afterClearing(0)).isEqualTo(new EtchRates.Pair(2, 0.1));
        assertThat(rates.beforeClearing().vertical()).isCloseTo(2 / 1.5, within(1e-15));
        assertThat(rates.beforeClearing().lateral()).isCloseTo(0.1 / 1.5, within(1e-15));
        assertThat(rates.afterClearing(0.5).vertical()).isCloseTo(1.6, within(1e-15));
    }

    @Test
    void negative_rates_are_refused() {
        assertThatThrownBy(() -> new EtchRates(-1, 0, 0)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new EtchRates(1, -1, 0)).isInstanceOf(IllegalArgumentException.class);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void a_time_inside_the_window_clears_all_and_keeps_all_and_one_outside_does_not(long seed) {
        Case c = new Case(seed);
        EtchWindow window = c.window(1);
        double earliest = window.earliest();
        double latest = window.latest();
        assertThat(c.clear(earliest * (1 + 1e-9))).isTrue();
        assertThat(c.clear(earliest * (1 - 1e-9))).isFalse();
        if (window.open()) {
            assertThat(c.kept(latest * (1 - 1e-9))).isTrue();
            assertThat(c.kept(latest * (1 + 1e-9))).isFalse();
            assertThat(window.spreadThatOpens(() -> {}).orElseThrow())
                    .isEqualTo(Uniformity.of(c.residual).spread());
        } else {
            assertThat(c.kept(earliest * (1 + 1e-9))).isFalse();
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void the_spread_that_opens_is_on_the_edge(long seed) {
        Case c = new Case(seed);
        EtchWindow closed = c.window(1);
        double present = Uniformity.of(c.residual).spread();
        closed.spreadThatOpens(() -> {})
                .ifPresentOrElse(
                        spread -> {
                            assertThat(c.window(spread / present * (1 - 1e-9)).open())
                                    .isTrue();
                            if (!closed.open()) {
                                assertThat(c.window(spread / present * (1 + 1e-9))
                                                .open())
                                        .isFalse();
                            }
                        },
                        () -> assertThat(c.window(0).open()).isFalse());
    }

    @Test
    void the_seeds_hold_open_windows_closed_ones_and_hopeless_ones() {
        long open = 0;
        long opening = 0;
        long hopeless = 0;
        for (long seed = 1; seed <= 8; seed++) {
            EtchWindow window = new Case(seed).window(1);
            open += window.open() ? 1 : 0;
            opening += !window.open() && window.spreadThatOpens(() -> {}).isPresent() ? 1 : 0;
            hopeless += window.spreadThatOpens(() -> {}).isEmpty() ? 1 : 0;
        }
        assertThat(new long[] {open, opening, hopeless}).doesNotContain(0);
    }

    /** Random places, with the plain meaning of clear and kept. */
    private static final class Case {
        private static final int PLACES = 20;
        private final double[] residual = new double[PLACES];
        private final EtchRates.Pair before;
        private final EtchRates.Pair[] after = new EtchRates.Pair[PLACES];
        private final double[] height = new double[PLACES];
        private final double[] width = new double[PLACES];
        private final double cotangent;
        private final NarrowOpening[] openings = new NarrowOpening[PLACES];

        Case(long seed) {
            SplittableRandom random = new SplittableRandom(seed);
            cotangent = random.nextDouble(0.1);
            double tightness = seed % 3;
            before = new EtchRates.Pair(random.nextDouble(1.9, 2.1), tightness == 2 ? 2 : 0.05);
            for (int i = 0; i < PLACES; i++) {
                residual[i] = random.nextDouble(20, 80);
                after[i] = new EtchRates.Pair(random.nextDouble(1.9, 2.5), tightness == 2 ? 2 : random.nextDouble(0.1));
                height[i] = tightness == 1 ? random.nextDouble(30, 40) : random.nextDouble(80, 120);
                width[i] = random.nextDouble(50, 100);
                openings[i] = new NarrowOpening(0, 2, 100, 100);
            }
        }

        EtchWindow window(double share) {
            double mean = Arrays.stream(residual).average().orElseThrow();
            double[] moved = share == 1
                    ? residual
                    : Arrays.stream(residual)
                            .map(h -> mean + share * (h - mean))
                            .toArray();
            return new EtchWindow(moved, before, after, height, width, cotangent, openings);
        }

        boolean clear(double time) {
            for (int i = 0; i < PLACES; i++) {
                if (before.vertical() * time < residual[i]) {
                    return false;
                }
            }
            return true;
        }

        boolean kept(double time) {
            for (int i = 0; i < PLACES; i++) {
                double first = Math.min(time, residual[i] / before.vertical());
                double recession = after[i].vertical() * (time - first);
                double sideways = before.lateral() * first + after[i].lateral() * (time - first);
                if (recession > height[i] || 2 * (sideways + cotangent * recession) > width[i]) {
                    return false;
                }
            }
            return true;
        }
    }
}
