package org.evenstamp.analysis.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LightTest {
    private static Parameters light(String side, double stamp, double substrate) {
        Parameters.Builder builder = Parameters.builder().choice("process.lamp-side", side);
        if (!Double.isNaN(stamp)) {
            builder.quantity("stamp.transmission", stamp);
        }
        if (!Double.isNaN(substrate)) {
            builder.quantity("process.substrate-transmission", substrate);
        }
        return builder.build();
    }

    @ParameterizedTest
    @CsvSource({
        "either, 0.9, 0.3, stamp, 0.9, true",
        "either, 0.3, 0.9, substrate, 0.9, true",
        "either, 0, 0.2, substrate, 0.2, true",
        "either, 0.2, 0, stamp, 0.2, true",
        "either, NaN, 0, stamp, 1, false",
        "either, 0, NaN, substrate, 1, false",
        "either, NaN, NaN, stamp, 1, false",
        "either, NaN, 0.9, substrate, 0.9, true",
        "substrate, 0.9, 0.3, substrate, 0.3, true",
        "stamp, 0.3, 0.9, stamp, 0.3, true"
    })
    void light_takes_the_clearer_way_unless_the_job_says_which(
            String side, double stamp, double substrate, String through, double transmission, boolean known) {
        assertThat(LightPath.of(light(side, stamp, substrate))).isEqualTo(new LightPath(transmission, through, known));
    }

    @ParameterizedTest
    @CsvSource({"either, 0, 0", "either, 1e-7, 1e-9", "stamp, 0, 0.9", "substrate, 0.9, 0", "stamp, 0, NaN"})
    void a_film_that_no_light_reaches_is_refused(String side, double stamp, double substrate) {
        assertThatThrownBy(() -> LightPath.of(light(side, stamp, substrate)))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("opaque");
    }

    @Test
    void a_lamp_falls_off_to_its_edges_and_corners_as_stated() {
        Lamp lamp = new Lamp(0.1, -0.05, 0.2);

        assertThat(lamp.factor(0, 0)).isEqualTo(1);
        assertThat(lamp.factor(1, 0)).isCloseTo(1.0, within(1e-15)); // 1 + 0.1 - 0.2/2
        assertThat(lamp.factor(-1, 1)).isCloseTo(0.65, within(1e-15)); // 1 - 0.1 - 0.05 - 0.2
        double least = Double.POSITIVE_INFINITY;
        for (int i = -20; i <= 20; i++) {
            for (int j = -20; j <= 20; j++) {
                least = Math.min(least, lamp.factor(i / 20.0, j / 20.0));
            }
        }
        assertThat(lamp.least()).isCloseTo(least, within(1e-15));
        assertThatThrownBy(() -> new Lamp(0.5, 0.3, 0.2)).hasMessageContaining("without light");
    }

    /** First order: what halves the rest once halves it again; the slope at first is 1/E0. */
    @Test
    void equal_doses_take_equal_shares_of_the_double_bonds_that_are_left() {
        CureLaw law = CureLaw.through(5000, 0.85);

        assertThat(law.conversion(5000)).isCloseTo(0.85, within(1e-14));
        assertThat(law.conversion(10000)).isCloseTo(1 - 0.15 * 0.15, within(1e-14));
        assertThat(law.conversion(law.dose(0.05))).isCloseTo(0.05, within(1e-14));
        assertThat(law.conversion(1e-6) * law.scale()).isCloseTo(1e-6, within(1e-14));
        assertThat(law.scale()).isCloseTo(2635.57394, within(1e-4)); // -5000/ln 0.15, by hand
    }
}
