package org.evenstamp.analysis.drops;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.SplittableRandom;
import org.evenstamp.analysis.process.Capillarity;
import org.evenstamp.analysis.process.Drop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DropMapTest {
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void the_total_is_right_to_half_a_drop_and_every_rectangle_to_its_half_perimeter(long seed) {
        SplittableRandom dice = new SplittableRandom(seed);
        int columns = 1 + dice.nextInt(40);
        int rows = 1 + dice.nextInt(40);
        double scale = Math.pow(10, -2 + 3 * dice.nextDouble());
        double[] need = dice.doubles((long) columns * rows).map(v -> v * scale).toArray();
        DropMap map = DropMap.of(columns, rows, (column, row) -> need[row * columns + column]);
        double sum = 0;
        for (double value : need) {
            sum += value;
        }
        assertThat(map.total()).isCloseTo(Math.round(sum), within(1L));
        assertThat((double) map.total()).isCloseTo(sum, within(0.5 + 1e-9));
        for (int trial = 0; trial < 50; trial++) {
            int left = dice.nextInt(columns);
            int low = dice.nextInt(rows);
            int wide = 1 + dice.nextInt(columns - left);
            int high = 1 + dice.nextInt(rows - low);
            double wanted = 0;
            int given = 0;
            for (int row = low; row < low + high; row++) {
                for (int column = left; column < left + wide; column++) {
                    wanted += need[row * columns + column];
                    given += map.at(column, row);
                }
            }
            assertThat((double) given).isCloseTo(wanted, within((double) wide + high));
        }
    }

    @Test
    void an_even_need_of_a_half_gives_every_second_site() {
        DropMap map = DropMap.of(20, 20, (column, row) -> 0.5);
        assertThat(map.total()).isEqualTo(200);
        for (int row = 0; row < 20; row += 4) {
            for (int column = 0; column < 20; column += 4) {
                int block = 0;
                for (int i = 0; i < 16; i++) {
                    block += map.at(column + i % 4, row + i / 4);
                }
                assertThat(block).isBetween(5, 11);
            }
        }
    }

    @Test
    void whole_needs_are_met_exactly() {
        DropMap map = DropMap.of(7, 5, (column, row) -> column + row);
        for (int row = 0; row < 5; row++) {
            for (int column = 0; column < 7; column++) {
                assertThat(map.at(column, row)).isEqualTo(column + row);
            }
        }
    }

    @Test
    void a_need_that_is_no_number_is_refused() {
        assertThatThrownBy(() -> DropMap.of(2, 2, (column, row) -> Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("NaN");
    }

    /**
     * A drop of constant volume, 1 pL of 10 mPa s from 1 um to 50 nm under 1 mN takes 0.190984738 s (closed form of the squeezed
     * drop, {@code 3 eta V^2/(8 pi F) (1/h^4 - 1/h0^4)}). Its share of the area at 50 nm is 2e-8 m^2, so that is 50 kPa.
     */
    @Test
    void drops_meet_when_each_covers_its_share() {
        // 0.6 pL of 10 mPa s under 0.1 MPa to 100 nm, by hand: 7.16 ms by the force alone, 2.39 ms by menisci of 30
        // mN/m alone, 1.61 ms by both
        Capillarity wetting = new Capillarity(0.03, 0);
        assertThat(DropSpreading.seconds(6e-16, 0.01, 1e5, 100e-9, 1e-5, Optional.empty()))
                .isCloseTo(7.162e-3, within(0.005e-3));
        assertThat(new Drop(6e-16, 0.01).secondsByCapillarity(wetting, 1e-5, 100e-9))
                .isCloseTo(2.387e-3, within(0.002e-3));
        assertThat(DropSpreading.seconds(6e-16, 0.01, 1e5, 100e-9, 1e-5, Optional.of(wetting)))
                .isCloseTo(1.613e-3, within(0.002e-3));
        assertThat(DropSpreading.seconds(1e-15, 0.01, 50e3, 50e-9, 1e-6, Optional.empty()))
                .isCloseTo(0.190984738, within(1e-8));
        assertThat(DropSpreading.seconds(1e-15, 0.01, 50e3, 2e-6, 1e-6, Optional.empty()))
                .isZero();
    }
}
