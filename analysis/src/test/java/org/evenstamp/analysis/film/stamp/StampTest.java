package org.evenstamp.analysis.film.stamp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StampTest {
    private static final double E = 70e9;
    private static final double T = 3e-4;

    private static double transfer(Stamp stamp, double poisson, double a) {
        double k = a / T;
        return stamp.compliance(k) * E / (1 - poisson * poisson) * k / 2;
    }

    // Transfer functions of a plane-strain layer, derived and checked at a = 0.5, 1, 2 against a matrix-exponential
    // solve.
    @ParameterizedTest
    @CsvSource({
        "0.1, 0.0408450444, 0.00442549745, 0.000654881776, 6012.01829",
        "0.5, 0.206642486, 0.0706412032, 0.0575736284, 50.4913914",
        "1, 0.415751798, 0.254826925, 0.240581681, 7.38243534",
        "2, 0.761231357, 0.651191957, 0.641450034, 1.70906266",
        "5, 0.996874609, 0.994694316, 0.994486735, 1.00556456"
    })
    void theTransferFunctionsAreThoseOfAnElasticLayer(
            double a, double bonded03, double bonded049, double bonded05, double freePlate) {
        Percentage printed = Percentage.withPercentage(5.1e-7); // half of the last printed digit
        assertThat(transfer(new Stamp.BondedLayer(E, 0.3, T), 0.3, a)).isCloseTo(bonded03, printed);
        assertThat(transfer(new Stamp.BondedLayer(E, 0.49, T), 0.49, a)).isCloseTo(bonded049, printed);
        assertThat(transfer(new Stamp.BondedLayer(E, 0.5, T), 0.5, a)).isCloseTo(bonded05, printed);
        assertThat(transfer(new Stamp.Plate(E, 0.3, T), 0.3, a)).isCloseTo(freePlate, printed);
    }

    @Test
    void long_waves_bend_the_plate_as_kirchhoff_says() {
        Stamp.Plate plate = new Stamp.Plate(130e9, 0.278, 525e-6);
        // D for silicon, E = 130 GPa, nu = 0.278, 525 um (Kirchhoff's formula, evaluated).
        assertThat(plate.bendingStiffness()).isCloseTo(1.69891623, within(1e-8));
        double k = 0.01 / 525e-6;
        assertThat(plate.compliance(k) * plate.bendingStiffness() * Math.pow(k, 4))
                .isCloseTo(1, within(3e-5));
    }

    @Test
    void kirchhoff_is_ten_percent_low_where_the_free_plate_says() {
        Stamp.Plate plate = new Stamp.Plate(130e9, 0.278, 525e-6);
        double k = 0.717742993 / 525e-6;
        assertThat(1 / (plate.bendingStiffness() * Math.pow(k, 4)) / plate.compliance(k))
                .isCloseTo(0.9, within(1e-7));
    }

    @Test
    void series_and_closed_forms_meet_without_a_jump() {
        for (Stamp stamp : new Stamp[] {
            new Stamp.Plate(E, 0.2, T), new Stamp.BondedLayer(E, 0.2, T), new Stamp.BondedLayer(E, 0.5, T)
        }) {
            for (double a : new double[] {0.15, 0.3, 20}) {
                double below = stamp.compliance(a * (1 - 1e-9) / T);
                double above = stamp.compliance(a * (1 + 1e-9) / T);
                assertThat(above / below).isCloseTo(1, within(3e-8));
            }
        }
    }

    @Test
    void a_bonded_layer_under_uniform_pressure_is_an_oedometer() {
        Stamp.BondedLayer layer = new Stamp.BondedLayer(E, 0.3, T);
        assertThat(layer.compliance(1e-4 / T)).isCloseTo(layer.uniformCompliance(), Percentage.withPercentage(1e-5));
    }

    @Test
    void impossible_bodies_are_refused() {
        assertThatThrownBy(() -> new Stamp.HalfSpace(0, 0.3)).hasMessageContaining("modulus");
        assertThatThrownBy(() -> new Stamp.Plate(1e9, 0.51, 1e-3)).hasMessageContaining("Poisson");
        assertThatThrownBy(() -> new Stamp.BondedLayer(1e9, 0.3, 0)).hasMessageContaining("thickness");
    }
}
