package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.rheology.Caution;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Rows worked out from Hertz's formulae (Johnson, Contact Mechanics, ch. 4). */
class RollerTest {

    @Test
    void rubber_faced_roller_against_steel_is_the_worked_one() {
        LineContact contact = new LineContact(1e4, 0.05, LineContact.modulus(5e6, 0.45, 2e11, 0.3));

        assertThat(contact.modulusPascals()).isCloseTo(6.26941483e6, withinPercentage(1e-4));
        assertThat(contact.halfWidthMetres()).isCloseTo(10.0768909e-3, withinPercentage(1e-4));
        assertThat(contact.peakPascals()).isCloseTo(631762.095, withinPercentage(1e-4));
        assertThat(contact.meanPascals()).isCloseTo(496184.789, withinPercentage(1e-4));
        Roller roller = new Roller(contact, 0.01, 450, 0, new Roller.Setting.Cooling(10, 340));
        assertThat(roller.dwellSeconds()).isCloseTo(2.01537818, withinPercentage(1e-4));
    }

    /** By hand: 1000 N/m around 100 mm press with 10 kPa (the hoop of a thin ring, tension = pressure x radius). */
    @Test
    void a_wrapped_web_presses_with_its_tension_over_the_radius() {
        Roller roller = Roller.covered(0.2, 1e7, 0.48, 2e4, 0.05, 450, new Roller.Setting.Cooling(10, 340))
                .wrapped(1000);

        assertThat(roller.wrapPascals()).isCloseTo(10e3, withinPercentage(1e-9));
        NipPass pass = roller.pass(0.5);
        assertThat(pass.pascals(0.1, 0.9 * pass.seconds()))
                .as("long behind the nip")
                .isCloseTo(10e3, withinPercentage(1e-9));
    }

    @Test
    void steel_roller_is_the_worked_one() {
        LineContact contact = new LineContact(1e5, 0.01, 115e9);

        assertThat(contact.halfWidthMetres()).isCloseTo(105.221900e-6, withinPercentage(1e-4));
        assertThat(contact.peakPascals()).isCloseTo(605.025924e6, withinPercentage(1e-4));
    }

    @Test
    void pressure_carries_the_line_force_and_moves_with_the_web() {
        Roller roller = Roller.covered(0.2, 1e7, 0.48, 2e4, 0.05, 450, new Roller.Setting.Cooling(10, 340));
        NipPass pass = roller.pass(0.5);
        double b = roller.contact().halfWidthMetres();
        double middle = (0.3 + b) / 0.05; // when it is over x = 0.3 m
        double sum = 0;
        int cells = 20000;
        for (int i = 0; i < cells; i++) {
            double x = 0.3 + b * (-1.1 + 2.2 * (i + 0.5) / cells);
            sum += pass.pascals(x, middle) * 2.2 * b / cells;
        }

        assertThat(sum).isCloseTo(2e4, withinPercentage(1e-3));
        assertThat(pass.pascals(0.3, middle)).isCloseTo(roller.contact().peakPascals(), withinPercentage(1e-9));
        // What a place feels while the roller passes is its nip step.
        StepProfile nip = roller.steps().get(0).pascals();
        for (double share = 0.05; share < 1; share += 0.1) {
            assertThat(pass.pascals(0.3, pass.entrySeconds(0.3) + share * roller.dwellSeconds()))
                    .isCloseTo(nip.at(share), withinPercentage(1e-6));
        }
        assertThat(pass.at(pass.entrySeconds(0.4) / pass.seconds()))
                .as("mean on the map while all of the nip is on it")
                .isCloseTo(2e4 / 0.5, withinPercentage(1e-9));
    }

    /** Maps shorter, little longer and much longer than the nip; a web that presses little, nearly and more than the nip. */
    @ParameterizedTest(name = "map of {0} m, web of {1} of the peak")
    @CsvSource({"0.005, 0", "0.005, 0.3", "0.05, 0", "0.05, 0.9", "0.05, 1.5", "1, 0", "1, 0.1"})
    void means_of_a_passing_nip_are_those_of_many_points(double length, double wrap) {
        LineContact contact = new LineContact(1e4, 0.05, 6.26941483e6);
        NipPass pass = new NipPass(contact, 0.01, wrap * contact.peakPascals(), length);
        int parts = 400;
        double most = 0;
        for (int n = 0; n < 24; n++) {
            double from = n / 24.0 * pass.seconds();
            double to = from + pass.seconds() / 24;
            double cell = 0;
            double whole = 0;
            for (int i = 0; i < parts; i++) {
                for (int j = 0; j < parts; j++) {
                    double t = from + (to - from) * (i + 0.5) / parts;
                    cell += pass.pascals(length * (0.4 + 0.2 * (j + 0.5) / parts), t) / parts / parts;
                }
            }
            for (int j = 0; j < parts * parts; j++) {
                whole += pass.pascals(length * (j + 0.5) / parts / parts, from) / parts / parts;
            }
            most = Math.max(most, whole);
            assertThat(pass.meanPascals(0.4 * length, 0.6 * length, from, to))
                    .as("piece %d", n)
                    .isCloseTo(cell, within(2e-3 * contact.peakPascals()));
            assertThat(pass.at(n / 24.0)).as("at %d", n).isCloseTo(whole, within(1e-4 * contact.peakPascals()));
        }
        assertThat(pass.most()).isBetween(most - 1e-6 * contact.peakPascals(), most + 0.03 * contact.peakPascals());
        assertThat(pass.least()).isEqualTo(Math.min(pass.at(0), pass.at(1)));
    }

    @Test
    void too_fast_a_web_is_told_with_the_speed_that_works() {
        Roller roller = Roller.covered(0.2, 1e8, 0.48, 1e4, 0.05, 450, new Roller.Setting.Cooling(10, 340));

        assertThat(roller.cautions(roller.dwellSeconds() * 0.99)).isEmpty();
        Caution caution = roller.cautions(roller.dwellSeconds() * 10).get(0);
        assertThat(caution.code()).isEqualTo("process.roller-too-fast");
        assertThat(caution.message()).contains("no more than 0.005000 m/s");
    }

    @Test
    void deep_contact_is_told_to_be_beyond_the_law() {
        assertThat(new Roller(
                                new LineContact(1e4, 0.05, 6.26941483e6),
                                0.01,
                                450,
                                0,
                                new Roller.Setting.Cooling(1, 300))
                        .cautions(0))
                .extracting(Caution::code)
                .containsExactly("process.roller-large-strain");
    }

    @Test
    void wrong_inputs_are_refused() {
        Roller.Setting setting = new Roller.Setting.Cooling(10, 340);
        assertThatThrownBy(() -> Roller.covered(0.2, 1e7, 0.48, -1, 0.05, 450, setting))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("line force");
        assertThatThrownBy(() -> Roller.covered(0.2, 1e7, 0.48, 1e4, 0, 450, setting))
                .hasMessageContaining("web speed");
    }

    /** Nickel stamp on silicon, 80 K at 50 mm: difference of expansions 10.8e-6 1/K. */
    @Test
    void nickel_stamp_slips_over_silicon_as_worked() {
        assertThat(0.05 * new ExpansionMismatch(13.4e-6, 2.6e-6).strain(378.15, 298.15))
                .isCloseTo(43.2e-6, withinPercentage(1e-6));
    }

    @Test
    void uneven_pressure_keeps_its_mean_and_never_pulls() {
        UnevenPressure uneven = new UnevenPressure(0.6, -0.4);
        double sum = 0;
        for (int i = 0; i < 10; i++) {
            for (int j = 0; j < 10; j++) {
                double factor = uneven.factor(-0.9 + 0.2 * i, -0.9 + 0.2 * j);
                assertThat(factor).isNotNegative();
                sum += factor;
            }
        }
        assertThat(sum / 100).isCloseTo(1, within(1e-12));
        assertThat(uneven.factor(1, -1)).isCloseTo(2, within(1e-12));
    }
}
