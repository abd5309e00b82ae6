package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TileLawTest {
    private static final int SIZE = 4;
    private static final double VOLUME = 223.611111e-9;

    /**
     * A face of wide cavities with a sag of 48 nm/MPa. Whether the tile is pressed or, as film comes in from its neighbours, pulled: what it
     * bears at the brim is what its land says at the height that the sag of that very pressure leaves it.
     */
    @ParameterizedTest
    @CsvSource({
        // film before, film at the brim, gap under the land before, seconds: the mean stands at the film less the
        // cavities
        "260,       260,       60,        0.1",
        "316.61953, 319.09063, 51.802529, 7.888",
        "318.70462, 318.92242, 51.980526, 0.6024",
        "316.61953, 316.7,     93,        2"
    })
    void a_tile_that_fills_bears_what_its_land_says_below_the_face_that_this_bends(
            double filmBefore, double film, double gap, double seconds) {
        double sag = 4.809e-14;
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 60e-6, 2, 2), 260e-9, PressLoad.constant(1e3, 5e6, 400))
                .relief(all(VOLUME), all(0.9722), all(15.88e-12))
                .edges(all(5556))
                .sag(all(sag))
                .build();
        TileLaw law = new TileLaw(input);
        law.begin(
                seconds,
                new StepViscosity(PressLoad.constant(1e3, 1, 1), SIZE),
                new double[SIZE],
                all(gap * 1e-9),
                all(filmBefore * 1e-9),
                0,
                SIZE);
        double aside = 1e-11;

        double held = law.heldWhenFilled(0, film * 1e-9, aside);

        double land = film * 1e-9 - VOLUME - aside + sag * held;
        assertThat(land).isPositive();
        assertThat(law.pressure(0, land, film * 1e-9)).isCloseTo(held, withinPercentage(0.1));
    }

    /** A tile that is nearly all cavity, with a corner of land: film on its way under the roof holds the stamp too. */
    @ParameterizedTest
    @CsvSource({"0.5", "0.9999999", "1", "1.0001", "1.5"})
    void a_tile_that_is_pulled_beyond_what_its_land_sucks_with_is_held_by_the_film_under_its_roof(double ofLand) {
        SolverInput input = SolverInput.of(new TileGrid(0, 0, 25e-6, 2, 2), 300e-9, PressLoad.constant(5e3, 4e6, 200))
                .relief(all(199.8e-9), all(0.999), all(5.4e-16))
                .edges(all(4000))
                .build();
        TileLaw law = new TileLaw(input);
        law.begin(
                7e-4,
                new StepViscosity(PressLoad.constant(5e3, 1, 1), SIZE),
                new double[SIZE],
                all(100e-9),
                all(450e-9),
                0,
                SIZE);
        double pull = -ofLand * law.inverseA[0];

        double gap = law.gap(0, pull, 450e-9);

        assertThat(gap).isGreaterThan(100e-9);
        assertThat(law.pressure(0, gap, 450e-9)).isCloseTo(pull, withinPercentage(1e-4));
    }

    private static double[] all(double value) {
        double[] map = new double[SIZE];
        Arrays.fill(map, value);
        return map;
    }
}
