package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;

class SolventVapourTest {
    private static final SolventVapour ACETONE = new SolventVapour(0.026, 24e3, 0.05808, 791, 5e-3, 298.15);

    /** By hand: 24/101.325; 0.25 x 0.026 x 101325 Pa x 5 L/(8.3145 J/(mol K) x 298.15 K) x 58.08 g/mol/(791 g/L); ln(0.23686/0.0065). */
    @Test
    void acetone_in_five_litres_is_that_of_the_hand() {
        assertThat(ACETONE.saturatedShare()).isCloseTo(0.236862, within(1e-6));
        assertThat(ACETONE.saturatedShare() / ACETONE.lowerLimit()).isCloseTo(9.11, within(0.005));
        assertThat(ACETONE.mostLiquid()).isCloseTo(0.0975e-6, withinPercentage(0.1));
        assertThat(ACETONE.changes()).isCloseTo(3.5957, within(1e-4));
    }

    /** Mole by mole: what is left of the vapour when the gas is renewed in small portions. */
    @Test
    void the_changes_of_gas_bring_it_to_a_quarter_of_the_limit() {
        double share = ACETONE.saturatedShare();
        int portions = 100_000;
        for (int n = 0; n < portions; n++) {
            share -= share * ACETONE.changes() / portions;
        }
        assertThat(share).isCloseTo(0.25 * 0.026, withinPercentage(0.02));
        assertThat(new SolventVapour(0.026, 500, 0.05808, 791, 5e-3, 298.15).changes())
                .isZero();
        assertThat(new SolventVapour(0.026, 2e5, 0.05808, 791, 5e-3, 298.15).saturatedShare())
                .isEqualTo(1);
    }

    private static Parameters.Builder solventPress() {
        return Parameters.builder().choice("process.kind", "solvent-press").quantity("process.temperature", 298.15);
    }

    private static List<String> cautions(Parameters.Builder builder) {
        return SafetyCautions.of(builder.defaults(ProcessParameters.all()).build(), false);
    }

    @Test
    void a_chamber_brings_its_numbers_into_the_cautions_or_says_what_lacks() {
        List<String> without = cautions(solventPress());
        assertThat(without).isEqualTo(SafetyCautions.of("solvent-press", false));

        List<String> lacking = cautions(
                solventPress().quantity("process.chamber-volume", 5e-3).quantity("film.solvent-molar-mass", 0.05808));
        assertThat(lacking)
                .hasSize(without.size() + 1)
                .anySatisfy(caution -> assertThat(caution)
                        .contains(
                                "NOT held against",
                                "explosive-limit, film.solvent-vapour-pressure, film.solvent-density")
                        .doesNotContain("molar-mass"));

        assertThat(cautions(solventPress()
                        .quantity("process.chamber-volume", 5e-3)
                        .quantity("film.solvent-molar-mass", 0.05808)
                        .quantity("film.solvent-density", 791)
                        .quantity("film.solvent-explosive-limit", 0.026)
                        .quantity("film.solvent-vapour-pressure", 24e3)))
                .anySatisfy(caution -> assertThat(caution)
                        .contains("5.000 L", "23.7 %", "9.11 times", "0.0975 mL", "inert gas", "3.6 changes"));
    }
}
