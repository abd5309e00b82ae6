package org.evenstamp.analysis.rheology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Rows worked out in high precision from the equation of Williams, Landel and Ferry, J. Am. Chem. Soc. 77 (1955) 3701. */
class WlfTest {
    private static final double PPM_AS_PERCENT = 1e-4; // 1e-6 relative

    private final Wlf universal = UniversalWlf.law(1e12, 373);

    @ParameterizedTest
    @CsvSource({"10,-2.83116883", "25,-5.69190601", "50,-8.58267717", "75,-10.3317536", "100,-11.5039578"})
    void universal_constants_give_the_worked_shift_factors(double above, double logShift) {
        assertThat(universal.logShift(373 + above)).isCloseTo(logShift, withinPercentage(PPM_AS_PERCENT));
        assertThat(Math.log10(universal.pascalSeconds(373 + above) / 1e12))
                .isCloseTo(logShift, withinPercentage(PPM_AS_PERCENT));
    }

    /** Polystyrene as fitted in the database of RepTate (CreateMaterialsDatabaseFile.py): B1 = C1 C2, B2 = C2 - Tr. */
    @ParameterizedTest
    @CsvSource({"140,1.89216409", "180,-0.433255318", "200,-1.12384019"})
    void fitted_polystyrene_gives_its_worked_shift_factors(double celsius, double logShift) {
        double c2 = 170 - 52.237;
        Wlf polystyrene = Wlf.of(1e4, 170 + 273.15, 651.8653 / c2, c2, 373.15);

        assertThat(polystyrene.c1()).isCloseTo(5.53539991, withinPercentage(PPM_AS_PERCENT));
        assertThat(polystyrene.logShift(celsius + 273.15)).isCloseTo(logShift, withinPercentage(PPM_AS_PERCENT));
    }

    @Test
    void passes_through_a_measured_point_and_keeps_its_shape() {
        Wlf law = universal.through(2e5, 473.15);

        assertThat(law.pascalSeconds(473.15)).isCloseTo(2e5, withinPercentage(1e-9));
        assertThat(law.logShift(440)).isCloseTo(universal.logShift(440), within(1e-12));
    }

    @Test
    void refuses_below_the_glass_temperature_naming_what_works() {
        assertThatThrownBy(() -> universal.pascalSeconds(363.15))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("90 degC")
                .hasMessageContaining("more than 99.9 degC");
        assertThatThrownBy(() -> universal.pascalSeconds(-3)).hasMessageContaining("-3.00000 K is not a temperature");
        assertThatThrownBy(() -> universal.pascalSeconds(Double.NaN)).isInstanceOf(InputException.class);
    }

    @Test
    void says_when_it_extrapolates() {
        assertThat(universal.at(450).caution()).isEmpty();
        assertThat(universal.at(480).caution().orElseThrow().message()).contains("holds from 99.9 degC to 199.9 degC");
    }

    @Test
    void refuses_a_glass_temperature_at_its_pole() {
        assertThatThrownBy(() -> Wlf.of(1e4, 450, 17.44, 51.6, 398.4)).hasMessageContaining("pole");
        // Just above the pole the viscosity is no longer a number.
        assertThatThrownBy(() -> Wlf.of(1e4, 450, 17.44, 51.6, 398.41)).hasMessageContaining("Infinity Pa s");
    }
}
