package org.evenstamp.analysis.rheology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ViscosityLawTest {
    private static final TemperatureRange MELT = new TemperatureRange(473.15, 533.15);

    /** Melt set of a moulding PMMA, PMC7388655 Table 1: eta0 = B exp(Tb/T), B = 1e-16 g/(cm s), Tb = 24294 K. */
    @ParameterizedTest
    @CsvSource({"200,199046.306", "220,24808.8364", "240,3637.07700", "260,615.827595"})
    void arrhenius_gives_the_published_pmma_melt(double celsius, double pascalSeconds) {
        double reference = 473.15;
        Arrhenius law = new Arrhenius(1e-17 * Math.exp(24294 / reference), reference, 24294, 374.15, MELT);

        assertThat(law.pascalSeconds(celsius + 273.15)).isCloseTo(pascalSeconds, withinPercentage(1e-4));
    }

    @Test
    void arrhenius_refuses_where_it_overflows_instead_of_returning_infinity() {
        Arrhenius liquid = new Arrhenius(0.01, 298.15, 24294, 0, new TemperatureRange(290, 320));

        assertThatThrownBy(() -> liquid.pascalSeconds(20)).isInstanceOf(InputException.class);
        assertThat(liquid.at(280).isInsideValidity()).isFalse();
    }

    @Test
    void newtonian_is_constant_and_knows_its_range() {
        Newtonian resin = new Newtonian(0.01, 0, new TemperatureRange(288.15, 313.15));

        assertThat(resin.pascalSeconds(300)).isEqualTo(0.01);
        assertThat(resin.at(330).caution()).isPresent();
        assertThatThrownBy(() -> new Newtonian(-1, 0, resin.valid())).hasMessageContaining("-1.00000 Pa s");
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void table_meets_its_points_and_never_rises_in_between(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int rows = random.nextInt(2, 9);
        double[] kelvin = new double[rows];
        double[] eta = new double[rows];
        for (int i = 0; i < rows; i++) {
            kelvin[i] = (i == 0 ? 380 : kelvin[i - 1]) + random.nextDouble(1, 30);
            eta[i] = (i == 0 ? 1e9 : eta[i - 1]) / Math.pow(10, random.nextDouble(0.01, 2));
        }
        TabulatedViscosity table = new TabulatedViscosity(kelvin, eta, 375);

        for (int i = 0; i < rows; i++) {
            assertThat(table.pascalSeconds(kelvin[i])).isCloseTo(eta[i], withinPercentage(1e-9));
        }
        double before = Double.MAX_VALUE;
        for (double t = 375; t < kelvin[rows - 1] + 20; t += 0.1) {
            double now = table.pascalSeconds(t);
            assertThat(now).isLessThan(before);
            before = now;
        }
    }

    @Test
    void table_of_a_wlf_melt_stays_close_to_it_between_the_rows() {
        Wlf law = UniversalWlf.law(1e12, 378.15);
        double[] kelvin = new double[11];
        double[] eta = new double[11];
        for (int i = 0; i < 11; i++) {
            kelvin[i] = 388.15 + 9 * i;
            eta[i] = law.pascalSeconds(kelvin[i]);
        }
        TabulatedViscosity table = new TabulatedViscosity(kelvin, eta, 378.15);

        for (double t = 400; t < 470; t += 0.7) {
            assertThat(table.pascalSeconds(t)).isCloseTo(law.pascalSeconds(t), withinPercentage(2));
        }
    }

    @Test
    void table_that_is_not_monotone_is_refused_with_its_row() {
        assertThatThrownBy(() -> new TabulatedViscosity(new double[] {400, 410, 420}, new double[] {9, 5, 6}, 390))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("row 3")
                .hasMessageContaining("6.00000 Pa s");
        assertThatThrownBy(() -> new TabulatedViscosity(new double[] {400, 400}, new double[] {9, 5}, 390))
                .hasMessageContaining("row 2");
        assertThatThrownBy(() -> new TabulatedViscosity(new double[] {400}, new double[] {9}, 390))
                .hasMessageContaining("at least 2");
        assertThatThrownBy(() -> new TabulatedViscosity(new double[] {380, 400}, new double[] {9, 5}, 390))
                .hasMessageContaining("below the glass temperature");
    }

    /** Powers of 3.4 in high precision; exponent of Berry and Fox, Adv. Polym. Sci. 5 (1968) 261. */
    @ParameterizedTest
    @CsvSource({"2,10.5560633", "3,41.8998305", "10,2511.88643"})
    void viscosity_follows_molar_mass_above_the_critical_one(double times, double ratio) {
        assertThat(MolarMass.viscosityRatio(50, 50 * times, 35)).isCloseTo(ratio, withinPercentage(1e-4));
        assertThat(MolarMass.viscosityRatio(30 / times, 30, 35)).isCloseTo(times, withinPercentage(1e-4));
    }

    @Test
    void molar_mass_ratio_is_continuous_and_consistent_across_the_critical_mass() {
        assertThat(MolarMass.viscosityRatio(35 - 1e-9, 35 + 1e-9, 35)).isCloseTo(1, withinPercentage(1e-6));
        assertThat(MolarMass.viscosityRatio(20, 100, 35) * MolarMass.viscosityRatio(100, 20, 35))
                .isCloseTo(1, withinPercentage(1e-9));
        assertThatThrownBy(() -> MolarMass.viscosityRatio(0, 1, 35)).isInstanceOf(InputException.class);
    }
}
