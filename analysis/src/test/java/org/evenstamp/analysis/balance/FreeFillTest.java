package org.evenstamp.analysis.balance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.ode.FirstOrderDifferentialEquations;
import org.apache.commons.math3.ode.nonstiff.DormandPrince853Integrator;
import org.evenstamp.analysis.imprint.Menisci;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FreeFillTest {
    private static final double FILM = 200e-9;
    private static final double MOMENT = 100e-12;
    private static final double VISCOSITY = 0.05;

    /** The sinking gap by a library's integrator, with Boyle's and Henry's laws written out: at the time told it stands at h0 - v. */
    @ParameterizedTest
    @CsvSource({
        // pressure Pa, pull Pa, gas Pa, solubility, share of the film that the cavities take
        "5e4,  0,    0,      0,    0.5",
        "5e4,  3e4,  0,      0,    0.5",
        "0,    3e4,  0,      0,    0.3",
        "5e4,  3e4,  1e3,    0.2,  0.5",
        "3e5,  0,    101325, 0.5,  0.5",
        "3e5,  2e4,  101325, 0.3,  0.7",
        "9e5,  0,    101325, 0.05, 0.4"
    })
    void at_the_time_told_the_stamp_has_come_down_by_the_cavities(
            double pressure, double pull, double gas, double solubility, double taken) {
        double volume = taken * FILM;
        double seconds = new FreeFill(VISCOSITY, pressure, new Menisci(0, 0, gas, solubility))
                .seconds(FILM, volume, MOMENT, pull);

        double[] gap = {FILM};
        new DormandPrince853Integrator(1e-9 * seconds, seconds, 1e-18, 1e-12)
                .integrate(sinking(pressure + pull, gas, solubility, volume), 0, gap, seconds, gap);

        assertThat(gap[0]).isCloseTo(FILM - volume, within(1e-7 * FILM));
    }

    private static FirstOrderDifferentialEquations sinking(double push, double gas, double solubility, double volume) {
        return new FirstOrderDifferentialEquations() {
            @Override
            public int getDimension() {
                return 1;
            }

            @Override
            public void computeDerivatives(double t, double[] y, double[] rate) {
                double h = y[0];
                double room =
                        volume - (FILM - h); // of the cavities; the film holds solubility times its own volume beside
                double over = gas * volume / (room + solubility * FILM) - gas;
                rate[0] = -h * h * h * (push - over) / (VISCOSITY * MOMENT);
            }
        };
    }

    @Test
    void gas_that_does_not_dissolve_or_holds_against_the_press_keeps_the_tile_from_filling() {
        assertThat(new FreeFill(VISCOSITY, 9e5, new Menisci(0, 0, 101325, 0)).seconds(FILM, 0.5 * FILM, MOMENT, 0))
                .isNaN();
        // Full, all gas is in the film: 0.05 of its volume holds what filled 0.5, at ten times the pressure: 9 bar
        // above it.
        Menisci gas = new Menisci(0, 0, 1e5, 0.05);
        assertThat(new FreeFill(VISCOSITY, 8.99e5, gas).seconds(FILM, 0.5 * FILM, MOMENT, 0))
                .isNaN();
        assertThat(new FreeFill(VISCOSITY, 9.01e5, gas).seconds(FILM, 0.5 * FILM, MOMENT, 0))
                .isPositive();
    }
}
