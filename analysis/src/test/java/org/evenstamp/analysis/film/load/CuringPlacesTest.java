package org.evenstamp.analysis.film.load;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.UvPress;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** By hand: first-order cure through 90 % at 5000 J/m² reaches 20 % after 5000 ln(1 - 0.2)/ln(1 - 0.9) = 484.5500 J/m². */
class CuringPlacesTest {
    private static final double GEL_DOSE = 5000 * Math.log(0.8) / Math.log(0.1);
    private static final FilmLaw FILM = FilmLaw.of(Newtonian.always(0.02));

    private static PressLoad load(TileGrid grid, double exposure) {
        UvPress press = new UvPress(298.15, 1e5, 1, 5, exposure, 500, 5000);
        Parameters p = Parameters.builder()
                .quantity("film.dose", 5000)
                .quantity("process.irradiance", 500)
                .quantity("film.cure-conversion", 0.9)
                .quantity("film.gel-conversion", 0.2)
                .quantity("process.lamp-uneven-x", 0.3)
                .quantity("process.lamp-uneven-y", -0.2)
                .quantity("process.lamp-falloff", 0.4)
                .build();
        ProcessHistory even = press.history(FILM);
        return CuringPlaces.of(p, press, even)
                .orElseThrow()
                .over(FieldSet.empty(grid))
                .load();
    }

    private static double factor(TileGrid grid, int i) {
        double x = grid.across(i);
        double y = grid.upward(i);
        return 1 + 0.3 * x - 0.2 * y - 0.4 * (x * x + y * y) / 2;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void whatever_the_steps_a_tile_flows_until_its_own_dose_is_that_of_the_gel_point(long seed) {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 7, 5);
        PressLoad load = load(grid, 200);
        SplittableRandom random = new SplittableRandom(seed);
        double[] sum = new double[grid.size()];
        double[] now = new double[grid.size()];
        double time = 0;
        while (time < load.endSeconds()) {
            double next = Math.min(load.endSeconds(), time + random.nextDouble(0.3));
            load.fluidity(time, next, now);
            for (int i = 0; i < sum.length; i++) {
                sum[i] += now[i] * (next - time);
            }
            time = next;
        }
        for (int i = 0; i < sum.length; i++) {
            assertThat(sum[i] * 0.02).isCloseTo(6 + GEL_DOSE / (500 * factor(grid, i)), within(1e-8));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {10, 200})
    void it_is_followed_until_the_darkest_tile_gels_or_the_lamp_goes_off(double exposure) {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 60, 60);
        double darkest = 1;
        for (int i = 0; i < grid.size(); i++) {
            darkest = Math.min(darkest, factor(grid, i));
        }
        PressLoad load = load(grid, exposure);
        assertThat(load.endSeconds()).isCloseTo(6 + Math.min(exposure, GEL_DOSE / (500 * darkest)), within(1e-9));
        double[] at = new double[grid.size()];
        load.fluidity(load.endSeconds(), load.endSeconds(), at);
        assertThat(at).containsOnly(0);
        load.fluidity(6, 6, at);
        assertThat(at).containsOnly(50);
    }
}
