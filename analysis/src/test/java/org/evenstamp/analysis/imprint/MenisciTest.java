package org.evenstamp.analysis.imprint;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class MenisciTest {
    /** By hand: 2 x 0.03 N/m x cos 30 deg/250 nm = 207846 Pa (Laplace, between parallel walls). */
    @Test
    void land_lets_go_at_the_suction_of_a_meniscus_in_the_gap() {
        assertThat(new Menisci(0.03, Math.toRadians(30), 0, 0).gapPascals(250e-9))
                .isCloseTo(207846, within(1.0));
        assertThat(new Menisci(0.03, Math.toRadians(120), 0, 0).gapPascals(250e-9))
                .isZero();
    }
}
