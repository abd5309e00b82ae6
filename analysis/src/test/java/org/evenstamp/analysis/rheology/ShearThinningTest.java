package org.evenstamp.analysis.rheology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Rows worked out in high precision from the equations: eta0 = 1e4 Pa s, n = 0.3. */
class ShearThinningTest {

    @ParameterizedTest
    @CsvSource({
        "0.01,9818.83468",
        "0.1,9153.54399",
        "1,6833.10723",
        "10,3009.49405",
        "100,791.035002",
        "1000,168.501814"
    })
    void cross_gives_the_worked_rows(double rate, double pascalSeconds) {
        assertThat(new ShearThinning.Cross(3e4, 0.3).pascalSeconds(1e4, rate))
                .isCloseTo(pascalSeconds, withinPercentage(1e-4));
    }

    /** Relaxation time 1 s, hence a critical stress of 1e4 Pa. */
    @ParameterizedTest
    @CsvSource({
        "2,0.1,9965.23441",
        "2,1,7845.84098",
        "2,10,1988.32567",
        "2,100,398.093238",
        "0.7,0.1,8336.62469",
        "0.7,1,5000.00000",
        "0.7,10,1663.37531"
    })
    void carreau_and_yasuda_give_the_worked_rows(double sharpness, double rate, double pascalSeconds) {
        assertThat(new ShearThinning.CarreauYasuda(1e4, sharpness, 0.3).pascalSeconds(1e4, rate))
                .isCloseTo(pascalSeconds, withinPercentage(1e-4));
    }

    @ParameterizedTest
    @CsvSource({"0", "1e-3", "1", "1e2", "1e5", "1e9"})
    void under_a_stress_the_film_flows_at_the_rate_that_takes_it(double rate) {
        ShearThinning[] laws = {
            new ShearThinning.None(),
            new ShearThinning.Cross(3e4, 0.05),
            new ShearThinning.Cross(3e4, 0.3),
            new ShearThinning.CarreauYasuda(3e4, 2, 0.3),
            new ShearThinning.CarreauYasuda(3e4, 0.7, 0.5)
        };
        for (ShearThinning law : laws) {
            double viscosity = law.pascalSeconds(1e4, rate);
            assertThat(law.underStress(1e4, viscosity * rate))
                    .as("%s", law)
                    .isCloseTo(viscosity, withinPercentage(1e-5));
        }
    }

    @Test
    void at_rest_and_at_exponent_one_the_laws_are_what_they_must_be() {
        assertThat(new ShearThinning.None().pascalSeconds(7, 1e9)).isEqualTo(7);
        assertThat(new ShearThinning.Cross(3e4, 0.3).pascalSeconds(1e4, 0)).isEqualTo(1e4);
        assertThat(new ShearThinning.CarreauYasuda(3e4, 2, 0.3).pascalSeconds(1e4, 0))
                .isEqualTo(1e4);
        assertThat(new ShearThinning.CarreauYasuda(3e4, 2, 1).pascalSeconds(1e4, 50))
                .isEqualTo(1e4);
    }

    @Test
    void wrong_constants_are_refused() {
        assertThatThrownBy(() -> new ShearThinning.Cross(0, 0.3)).isInstanceOf(InputException.class);
        assertThatThrownBy(() -> new ShearThinning.Cross(1, 1.3)).hasMessageContaining("1.3");
    }
}
