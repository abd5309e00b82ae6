package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.Plasticizer;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.UniversalWlf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StefanSqueezeTest {
    private static final TemperatureRange ANY = new TemperatureRange(200, 600);

    /** A film of constant viscosity under constant pressure that sets after the given time. */
    private static ProcessHistory constant(double pascals, double pascalSeconds, double seconds) {
        return ProcessHistory.of(
                List.of(
                        ProcessStep.of("hold", seconds, StepProfile.constant(450), StepProfile.constant(pascals)),
                        ProcessStep.of("set", 1, StepProfile.constant(450), StepProfile.constant(pascals))
                                .curing()),
                FilmLaw.of(new Newtonian(pascalSeconds, 0, ANY)));
    }

    /** Stefan 1874, worked for a strip of 10 um, 1e4 Pa s, 5 MPa, from 200 nm. */
    @ParameterizedTest
    @CsvSource({"1,169.030851", "10,89.4427191", "100,31.2347524", "1000,9.98752339"})
    void constant_viscosity_gives_the_worked_strip(double seconds, double nanometres) {
        StefanSqueeze strip = new StefanSqueeze(constant(5e6, 1e4, 1000), 1e-10, 200e-9);

        assertThat(strip.thicknessMetres(seconds)).isCloseTo(nanometres * 1e-9, withinPercentage(1e-4));
    }

    @Test
    void time_to_a_thickness_is_the_worked_one_or_absent() {
        ProcessHistory history = constant(5e6, 1e4, 10);

        assertThat(new StefanSqueeze(history, 1e-10, 200e-9)
                        .secondsToReach(100e-9)
                        .orElseThrow())
                .isCloseTo(7.5, withinPercentage(1e-4));
        // Disc of radius 5 um: T = 1.5 R^2.
        assertThat(new StefanSqueeze(history, 1.5 * 25e-12, 200e-9)
                        .secondsToReach(100e-9)
                        .orElseThrow())
                .isCloseTo(2.8125, withinPercentage(1e-4));
        assertThat(new StefanSqueeze(history, 1e-10, 200e-9).secondsToReach(50e-9))
                .isEmpty();
    }

    /**
     * Universal WLF with 1e12 Pa s at 378.15 K: press at 453.15 K with 5 MPa, 10 s ramp and 60 s hold, cooled at 0.4 K/s. The
     * cooling has the closed form {@code (p/eta_g)/rate 10^C1 [u exp(-A/u) - A E1(A/u)]}, A = ln(10) C1 C2, u = C2 + T - Tg;
     * evaluated with 40 digits.
     */
    @Test
    void cooling_ramp_agrees_with_its_exponential_integral() {
        ProcessHistory history = new HotPress(298.15, 453.15, 343.15, 0.5, 0.4, 5e6, 10, 60)
                .history(FilmLaw.of(UniversalWlf.law(1e12, 378.15)));

        double total = StefanSqueeze.pressureOverViscosity(history, history.durationSeconds());
        assertThat(total - StefanSqueeze.pressureOverViscosity(history, 380))
                .isCloseTo(1859563.10328686, withinPercentage(1e-9));
        assertThat(total).isCloseTo(8836052.13021304, withinPercentage(1e-9));
        assertThat(new StefanSqueeze(history, 1e-8, 200e-9).thicknessMetres(history.durationSeconds()))
                .isCloseTo(1 / Math.sqrt(2.5e13 + 2e8 * 8836052.13021304), withinPercentage(1e-9));
    }

    @Test
    void agrees_with_a_plain_midpoint_sum_on_a_drying_film() {
        FilmLaw film = new FilmLaw(
                UniversalWlf.law(1e12, 378.15),
                Optional.of(new Plasticizer.Fox(378.15, 150)),
                Optional.empty(),
                new ShearThinning.None());
        ProcessHistory history = new SolventPress(298.15, 1e6, 0.25, 100, 5, 300, 200).history(film);

        double sum = 0;
        double step = 1e-2;
        for (double t = step / 2; t < history.durationSeconds(); t += step) {
            sum += history.pressurePascals(t) * history.fluidity(t) * step;
        }
        assertThat(StefanSqueeze.pressureOverViscosity(history, history.durationSeconds()))
                .isCloseTo(sum, withinPercentage(1e-3));
    }

    @Test
    void passing_roller_presses_for_its_line_force_over_its_speed_whatever_the_cover() {
        FilmLaw resin = FilmLaw.of(new Newtonian(0.5, 0, ANY));
        for (double cover : new double[] {2e6, 2e7, 2e9}) {
            Roller roller = Roller.covered(0.1, cover, 0.45, 1e4, 0.02, 300, new Roller.Setting.Exposure(0.1, 1));
            assertThat(StefanSqueeze.pressureOverViscosity(roller.history(resin), 0.01 + roller.dwellSeconds()))
                    .isCloseTo(1e4 / 0.02 / 0.5, withinPercentage(1e-9));
        }
    }

    /**
     * Plausibility, published: the pressure needed grows once the film is thinner than about twice the depth of the grooves
     * (Hirai et al., J. Vac. Sci. Technol. B 22 (2004) 3288, abstract). Half the area cavity, filled in a fixed time.
     */
    @Test
    void pressure_to_fill_in_time_grows_steeply_for_films_thinner_than_twice_the_depth() {
        double depth = 100e-9;
        double before = 0;
        for (double ratio : new double[] {4, 3, 2, 1.5, 1, 0.7}) {
            double start = ratio * depth;
            double end = start - 0.5 * depth;
            double needed = 1e4 * 1e-12 / (2 * 60.0) * (1 / (end * end) - 1 / (start * start));
            StefanSqueeze sink = new StefanSqueeze(constant(needed, 1e4, 60), 1e-12, start);
            assertThat(sink.thicknessMetres(60)).isCloseTo(end, withinPercentage(1e-6));
            assertThat(needed).isGreaterThan(1.9 * before);
            before = needed;
        }
    }

    /** Plausibility, common practice: a liquid UV resin fills with far less pressure than a melt. */
    @Test
    void liquid_resin_under_a_bar_fills_sooner_than_a_melt_under_fifty() {
        double resin = new StefanSqueeze(constant(1e5, 0.01, 100), 1e-10, 200e-9)
                .secondsToReach(100e-9)
                .orElseThrow();
        double melt = new StefanSqueeze(constant(5e6, 1e3, 100), 1e-10, 200e-9)
                .secondsToReach(100e-9)
                .orElseThrow();

        assertThat(resin)
                .isCloseTo(melt * (0.01 / 1e3) * (5e6 / 1e5), within(1e-9))
                .isLessThan(melt / 1000);
    }
}
