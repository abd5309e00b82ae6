package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.rheology.Caution;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.Plasticizer;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.UniversalWlf;
import org.evenstamp.analysis.rheology.Wlf;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.junit.jupiter.api.Test;

class ProcessHistoryTest {
    private static final double GLASS = 378.15;
    private static final double ROOM = 298.15;
    private static final Wlf LAW = UniversalWlf.law(1e12, GLASS);
    private static final FilmLaw FILM = new FilmLaw(
            LAW, Optional.of(new Plasticizer.Fox(GLASS, 150)), Optional.of(523.15), new ShearThinning.None());
    private static final FilmLaw RESIN = FilmLaw.of(new Newtonian(0.01, 0, new TemperatureRange(288.15, 313.15)));
    private static final HotPress PRESS = new HotPress(ROOM, 453.15, 343.15, 0.5, 0.4, 5e6, 10, 60);

    private static StepProfile at(double value) {
        return StepProfile.constant(value);
    }

    private static List<String> codes(List<ProcessStep> steps, FilmLaw film) {
        return catchThrowableOfType(InputException.class, () -> ProcessHistory.of(steps, film)).problems().stream()
                .map(Problem::code)
                .toList();
    }

    @Test
    void hot_press_flows_from_the_glass_temperature_up_to_the_glass_temperature_down() {
        ProcessHistory history = PRESS.history(FILM);

        // By hand: 80 K at 0.5 K/s up to Tg; 310 s of heating, 70 s of pressing, 75 K at 0.4 K/s down to Tg.
        assertThat(history.flowStartSeconds()).isCloseTo(160, within(1e-9));
        assertThat(history.flowEndSeconds()).isCloseTo(567.5, within(1e-9));
        assertThat(history.durationSeconds()).isCloseTo(310 + 70 + 275 + 10, within(1e-9));
        assertThat(history.temperatureKelvin(480)).isCloseTo(453.15 - 40, within(1e-9));
        assertThat(history.pressurePascals(315)).isCloseTo(2.5e6, within(1e-3));
        assertThat(history.viscosity(350).pascalSeconds()).isCloseTo(LAW.pascalSeconds(453.15), withinPercentage(1e-9));
        assertThat(history.breakSeconds()).hasSize(8).isSorted();
        assertThat(history.cautions()).isEmpty();
    }

    @Test
    void a_uv_press_builds_its_pressure_up_and_takes_it_off() {
        ProcessHistory history = new UvPress(ROOM, 1e5, 2, 30, 10, 100, 800).history(RESIN);
        assertThat(history.pressurePascals(0)).isZero();
        assertThat(history.pressurePascals(0.5)).isCloseTo(0.25e5, within(1e-6));
        assertThat(history.pressurePascals(2)).isCloseTo(1e5, within(1e-6));
        assertThat(history.pressurePascals(41.9)).isCloseTo(1e5, within(1e-6));
        assertThat(history.pressurePascals(43)).isCloseTo(0.5e5, within(1e-6));
        assertThat(history.flowEndSeconds()).isCloseTo(32, within(1e-9));
    }

    /** The universal WLF constants hold to 100 K above the glass temperature, here 105 degC. */
    @Test
    void a_press_is_cautioned_from_where_its_law_ends_and_not_before() {
        HotPress inside = new HotPress(ROOM, GLASS + 99.9, 343.15, 0.5, 0.4, 5e6, 10, 60);
        HotPress outside = new HotPress(ROOM, GLASS + 100.1, 343.15, 0.5, 0.4, 5e6, 10, 60);
        assertThat(inside.history(FILM).cautions()).isEmpty();
        assertThat(outside.history(FILM).cautions())
                .singleElement()
                .satisfies(caution -> assertThat(caution.message()).contains("105 degC to 205 degC"));
    }

    @Test
    void solid_film_does_not_flow() {
        ProcessHistory history = PRESS.history(FILM);

        assertThat(history.fluidity(100)).isZero();
        assertThat(history.fluidity(600)).isZero();
        assertThat(history.fluidity(history.flowStartSeconds())).isCloseTo(1e-12, withinPercentage(1e-6));
        assertThatThrownBy(() -> history.viscosity(600)).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> history.temperatureKelvin(1e4)).isInstanceOf(IllegalArgumentException.class);
    }

    /** Plausibility, common knowledge of the trade: cooling under pressure, the viscosity climbs steeply to the glass. */
    @Test
    void viscosity_climbs_over_ten_decades_while_cooling_under_pressure() {
        ProcessHistory history = PRESS.history(FILM);
        double before = 0;
        for (double t = 380; t <= history.flowEndSeconds(); t += 2.5) {
            double now = history.viscosity(t).pascalSeconds();
            assertThat(now).isFinite().isGreaterThan(before);
            before = now;
        }
        assertThat(Math.log10(history.viscosity(history.flowEndSeconds()).pascalSeconds()
                        / history.viscosity(380).pascalSeconds()))
                .isCloseTo(10.3317536, within(1e-6));
    }

    @Test
    void cured_film_sets_when_the_lamp_goes_on() {
        UvPress press = new UvPress(ROOM, 1e5, 2, 30, 10, 100, 800);
        ProcessHistory history = press.history(RESIN);

        assertThat(history.flowStartSeconds()).isZero();
        assertThat(history.flowEndSeconds()).isCloseTo(32, within(1e-12));
        assertThat(history.fluidity(20)).isCloseTo(100, within(1e-9));
        assertThat(history.fluidity(33)).isZero();
    }

    @Test
    void solvent_film_flows_while_swollen_and_sets_while_drying() {
        ProcessHistory history = new SolventPress(ROOM, 1e6, 0.25, 100, 5, 300, 200).history(FILM);

        // By hand from Fox's rule: the film is at its glass temperature at the solvent share w of Tg(w) = 298.15 K.
        double share = (1 / ROOM - 1 / GLASS) / (1 / 150.0 - 1 / GLASS);
        assertThat(history.flowStartSeconds()).isCloseTo(100 * share / 0.25, within(1e-9));
        assertThat(history.flowEndSeconds()).isCloseTo(405 + 200 * (1 - share / 0.25), within(1e-9));
        double swollenGlass = FILM.glassKelvin(0.25);
        assertThat(history.viscosity(200).pascalSeconds())
                .isCloseTo(LAW.pascalSeconds(GLASS + ROOM - swollenGlass), withinPercentage(1e-6));
    }

    @Test
    void several_wrong_steps_are_told_at_once_with_place_and_number() {
        List<ProcessStep> steps = List.of(
                ProcessStep.of("heat", 0, at(450), at(0)),
                ProcessStep.of("hold", 10, at(-4), at(-2e6)),
                ProcessStep.of("hot", 10, at(600), at(1e6)),
                ProcessStep.of("nan", 10, at(Double.NaN), at(Double.NaN)));

        assertThat(codes(steps, FILM))
                .containsExactly(
                        "process.step-length",
                        "process.temperature",
                        "process.pressure",
                        "process.temperature",
                        "process.pressure",
                        "process.decomposition");
        assertThatThrownBy(() -> ProcessHistory.of(steps, FILM))
                .hasMessageContaining("step 1 \"heat\": it lasts 0.00000 s")
                .hasMessageContaining("-4.00000 K")
                .hasMessageContaining("-2.00000e+06 Pa")
                .hasMessageContaining("stay below 250 degC");
    }

    @Test
    void process_that_never_softens_or_presses_cold_or_never_sets_is_refused() {
        assertThat(codes(List.of(ProcessStep.of("hold", 10, at(360), at(1e6))), FILM))
                .containsExactly("process.never-softens");
        ProcessStep cold = ProcessStep.of("touch", 5, at(ROOM), at(1e6));
        ProcessStep hold = ProcessStep.of("hold", 10, at(440), at(1e6));
        ProcessStep cool = ProcessStep.of("cool", 10, new StepProfile.Ramp(440, 340), at(1e6));
        assertThat(codes(List.of(cold, hold, cool), FILM)).containsExactly("process.pressed-below-glass-temperature");
        assertThat(codes(List.of(hold), FILM)).containsExactly("process.never-solidifies");
        assertThat(codes(List.of(hold, cool, hold, cool), FILM)).containsExactly("process.softens-again");
        assertThat(codes(List.of(), FILM)).containsExactly("process.no-steps");
        assertThatThrownBy(() -> ProcessHistory.of(List.of(hold), FILM))
                .hasMessageContaining("166.9 degC")
                .hasMessageContaining("end below 105 degC");
        assertThatThrownBy(() -> ProcessHistory.of(List.of(ProcessStep.of("fill", 5, at(ROOM), at(1e5))), RESIN))
                .hasMessageContaining("add a step that cures");
        assertThat(codes(List.of(ProcessStep.of("expose", 5, at(ROOM), at(1e5)).curing()), RESIN))
                .containsExactly("process.cured-first");
    }

    @Test
    void solvent_without_a_known_effect_and_two_ramps_in_one_step_are_refused() {
        ProcessStep swell = ProcessStep.of("swell", 5, at(ROOM), at(0)).withSolvent(new StepProfile.Ramp(0, 0.2));
        ProcessStep both = ProcessStep.of("both", 5, new StepProfile.Ramp(300, 310), at(0))
                .withSolvent(new StepProfile.Ramp(0, 0.2));

        assertThat(codes(List.of(swell), FilmLaw.of(LAW))).containsExactly("process.solvent-unknown");
        assertThat(codes(List.of(both), FILM)).containsExactly("process.two-ramps");
        assertThat(codes(List.of(swell.withSolvent(at(1))), FILM)).containsExactly("process.solvent");
    }

    @Test
    void jump_to_the_cold_ends_the_flow_at_the_jump() {
        ProcessHistory history = ProcessHistory.of(
                List.of(ProcessStep.of("hold", 10, at(440), at(1e6)), ProcessStep.of("quenched", 10, at(300), at(1e6))),
                FILM);

        assertThat(history.flowStartSeconds()).isZero();
        assertThat(history.flowEndSeconds()).isEqualTo(10);
        assertThat(history.viscosity(10).pascalSeconds()).isCloseTo(1e12, withinPercentage(1e-6));
    }

    @Test
    void extrapolation_and_early_release_are_told() {
        ProcessHistory history = ProcessHistory.of(
                List.of(
                        ProcessStep.of("hold", 10, at(500), at(1e6)),
                        ProcessStep.of("cool", 10, new StepProfile.Ramp(500, 340), at(0))),
                FILM);

        assertThat(history.cautions())
                .extracting(Caution::code)
                .containsExactly("rheology.extrapolated", "process.released-liquid");
        assertThat(history.cautions().get(0).message()).contains("226.9 degC").contains("105 degC to 205 degC");
    }

    @Test
    void kinds_refuse_inputs_that_cannot_be() {
        assertThatThrownBy(() -> new HotPress(ROOM, 400, 420, 1, 1, 1e6, 1, 1))
                .hasMessageContaining("releases at 146.9 degC and presses at 126.9 degC");
        assertThatThrownBy(() -> new HotPress(ROOM, 400, 350, 0, 1, 1e6, 1, 1)).hasMessageContaining("heating rate");
        assertThatThrownBy(() -> new UvPress(ROOM, 1e5, 2, 30, 5, 100, 800)).hasMessageContaining("at least 8.00000 s");
        assertThatThrownBy(() -> new UnevenPressure(0.7, 0.4)).isInstanceOf(InputException.class);
    }

    @Test
    void hot_press_that_starts_hot_has_no_heating_step() {
        assertThat(new HotPress(450, 450, 343, 0.5, 0.4, 5e6, 10, 60).steps())
                .extracting(ProcessStep::name)
                .containsExactly("press", "hold", "cool", "release");
    }
}
