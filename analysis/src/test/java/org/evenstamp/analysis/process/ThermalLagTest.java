package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.special.Erf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ThermalLagTest {
    private static final ThermalLag PLATE = new ThermalLag(3e-3, 0.11e-6);

    /** A ramp is a sum of small steps: the lag is the integral of the step's answer by images (Carslaw and Jaeger, section 2.4 and 3.5, from memory). */
    @ParameterizedTest
    @ValueSource(doubles = {2, 20, 60, 300})
    void the_lag_is_the_sum_of_the_answers_to_small_steps(double seconds) {
        int parts = 4000;
        double sum = 0;
        for (int k = 0; k < parts; k++) {
            double tau = 0.11e-6 * seconds * (k + 0.5) / parts / 9e-6;
            double left = 1;
            for (int n = 0; n < 30; n++) {
                left -= (n % 2 == 0 ? 2 : -2) * Erf.erfc((2 * n + 1) / (2 * Math.sqrt(tau)));
            }
            sum += left * seconds / parts;
        }
        assertThat(PLATE.lag(0.5, seconds)).isCloseTo(0.5 * sum, within(2e-6));
    }

    /** 3 mm of 0.11 mm²/s lag by L²/2a = 40.9 s; a ramp of 0.5 K/s by 20.45 K. */
    @Test
    void a_long_ramp_lags_by_half_the_square_over_the_diffusivity() {
        assertThat(PLATE.lag(0.5, 1e4)).isCloseTo(20.4545, within(1e-4));
        assertThat(PLATE.delaySeconds()).isCloseTo(40.909, within(1e-3));
    }

    /** When the plate stops, the lag falls as one ramp less the same begun later. */
    @Test
    void the_lag_fades_in_the_time_told() {
        double settle = PLATE.settleSeconds(0.05);
        double left = PLATE.lag(0.5, 1e4 + settle) - PLATE.lag(0.5, settle);
        assertThat(left).isCloseTo(0.05 * 20.4545, within(1e-4));
    }
}
