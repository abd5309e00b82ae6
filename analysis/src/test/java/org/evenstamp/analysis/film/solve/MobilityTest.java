package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MobilityTest {
    /**
     * Gaps of 50 and 250 nm, half of each: along lines the mean of the cubes, across them the mean of their inverses, and on a checkerboard the
     * root of their product (J.B. Keller, J. Math. Phys. 5 (1964) 548; A.M. Dykhne, Sov. Phys. JETP 32 (1971) 63; both from memory), in nm³.
     */
    @ParameterizedTest
    @CsvSource({"PARALLEL, 7875000", "SERIES, 248015.873", "MEAN, 1397542.49"})
    void two_gaps_share_the_flow_as_gratings_and_checkerboards_do(Mobility mobility, double cubicNanometres) {
        assertThat(mobility.cubedGap(0.5, 50e-9, 200e-9)).isCloseTo(cubicNanometres * 1e-27, withinPercentage(1e-6));
    }
}
