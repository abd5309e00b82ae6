package org.evenstamp.analysis.drops;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DispensedFilmTest {
    private static final TileGrid GRID = new TileGrid(-1e-3, 2e-3, 100e-6, 12, 9);
    private static final double AREA = 12 * 9 * 1e-8;

    private static DispensedFilm film(double[] x, double[] y, double[] volume) {
        try (Stage stage = new Progress().stage("drops", x.length, "drops")) {
            return DispensedFilm.of(x, y, volume, GRID, 1.2e-3, 0.9e-3, stage);
        }
    }

    @SuppressWarnings("ArrayRecordComponent")
    private record Drops(double[] x, double[] y, double[] volume) {
        static Drops random(long seed, int count, double rim) {
            SplittableRandom random = new SplittableRandom(seed);
            double[] x = new double[count];
            double[] y = new double[count];
            double[] volume = new double[count];
            for (int i = 0; i < count; i++) {
                x[i] = -1e-3 + random.nextDouble(-rim, 1.2e-3 + rim);
                y[i] = 2e-3 + random.nextDouble(-rim, 0.9e-3 + rim);
                volume[i] = random.nextDouble(0.5e-15, 1.5e-15);
            }
            return new Drops(x, y, volume);
        }

        DispensedFilm film() {
            return DispensedFilmTest.film(x, y, volume);
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void the_tiles_hold_what_the_drops_inside_hold(long seed) {
        Drops drops = Drops.random(seed, (int) (40 * seed * seed), 0.1e-3);
        double inside = 0;
        int outside = 0;
        for (int i = 0; i < drops.x.length; i++) {
            boolean here = drops.x[i] >= -1e-3 && drops.x[i] <= 0.2e-3 && drops.y[i] >= 2e-3 && drops.y[i] <= 2.9e-3;
            inside += here ? drops.volume[i] : 0;
            outside += here ? 0 : 1;
        }

        DispensedFilm film = drops.film();

        double held = Arrays.stream(film.metres()).sum() * 1e-8;
        assertThat(held).isCloseTo(inside, within(1e-12 * inside));
        assertThat(film.cubicMetres()).isCloseTo(inside, within(1e-12 * inside));
        assertThat(film.outside()).isEqualTo(outside);
    }

    @ParameterizedTest
    @ValueSource(doubles = {50e-6, 100e-6, 150e-6, 30e-6})
    void a_full_raster_makes_an_even_film(double pitch) {
        int columns = (int) Math.round(1.2e-3 / pitch);
        int rows = (int) Math.round(0.9e-3 / pitch);
        double[] x = new double[columns * rows];
        double[] y = new double[x.length];
        double[] volume = new double[x.length];
        Arrays.fill(volume, 1e-15);
        for (int i = 0; i < x.length; i++) {
            int row = i / columns;
            x[i] = -1e-3 + (i % columns + 0.5) * pitch;
            y[i] = 2e-3 + (row + 0.5) * pitch;
        }

        for (double metres : film(x, y, volume).metres()) {
            assertThat(metres).isCloseTo(1e-15 / (pitch * pitch), within(1e-9 * 1e-15 / (pitch * pitch)));
        }
    }

    /** Slow oracle: many places, each given to its nearest drop by looking at all of them. */
    @ParameterizedTest
    @ValueSource(longs = {21, 22, 23})
    void every_place_has_the_film_of_the_nearest_drop(long seed) {
        Drops drops = Drops.random(seed, 60, 0);
        int fine = 25; // places along a tile's side
        int[] owner = new int[GRID.size() * fine * fine];
        int[] places = new int[60];
        double reach = DispensedFilm.REACH * Math.sqrt(AREA / 60);
        for (int n = 0; n < owner.length; n++) {
            int tile = n / (fine * fine);
            double px = -1e-3 + (GRID.column(tile) + (n % fine + 0.5) / fine) * 1e-4;
            double py = 2e-3 + (GRID.row(tile) + (n / fine % fine + 0.5) / fine) * 1e-4;
            int best = 0;
            for (int i = 1; i < 60; i++) {
                if (Math.hypot(px - drops.x[i], py - drops.y[i]) < Math.hypot(px - drops.x[best], py - drops.y[best])) {
                    best = i;
                }
            }
            assertThat(Math.hypot(px - drops.x[best], py - drops.y[best])).isLessThan(reach);
            owner[n] = best;
            places[best]++;
        }
        double[] expected = new double[GRID.size()];
        for (int n = 0; n < owner.length; n++) {
            expected[n / (fine * fine)] += drops.volume[owner[n]] / places[owner[n]] / 1e-8;
        }

        double[] film = drops.film().metres();

        double mean = Arrays.stream(film).average().orElseThrow();
        for (int i = 0; i < film.length; i++) {
            assertThat(film[i]).as("tile %d", i).isCloseTo(expected[i], within(0.03 * Math.max(mean, expected[i])));
        }
    }

    /** Tiles of 100 um over a stamp of 1.15 x 0.82 mm: half of the last column, a fifth of the last row. */
    @ParameterizedTest
    @ValueSource(longs = {31, 32, 33})
    void tiles_over_the_rim_hold_what_is_on_the_stamp(long seed) {
        Drops drops = Drops.random(seed, 200, 0);
        double inside = 0;
        for (int i = 0; i < 200; i++) {
            inside += drops.x[i] <= 0.15e-3 && drops.y[i] <= 2.82e-3 ? drops.volume[i] : 0;
        }
        DispensedFilm film;
        try (Stage stage = new Progress().stage("drops", 200, "drops")) {
            film = DispensedFilm.of(drops.x, drops.y, drops.volume, GRID, 1.15e-3, 0.82e-3, stage);
        }

        double held = 0;
        double[] metres = film.metres();
        for (int i = 0; i < metres.length; i++) {
            held += metres[i] * (GRID.column(i) == 11 ? 50e-6 : 100e-6) * (GRID.row(i) == 8 ? 20e-6 : 100e-6);
        }
        assertThat(held).isCloseTo(inside, within(1e-12 * inside));
        double mean = inside / (1.15e-3 * 0.82e-3);
        assertThat(Arrays.stream(metres).skip(8 * 12).average().orElseThrow()).isBetween(0.5 * mean, 2 * mean);
    }

    @Test
    void one_drop_covers_all_that_is_in_its_reach() {
        double[] film = film(new double[] {-0.9e-3}, new double[] {2.1e-3}, new double[] {1e-15})
                .metres();

        for (double metres : film) {
            assertThat(metres).isCloseTo(1e-15 / AREA, within(1e-12 * 1e-15 / AREA));
        }
    }

    @Test
    void far_from_all_drops_it_stays_dry() {
        int count = 100;
        double[] x = new double[count];
        double[] y = new double[count];
        double[] volume = new double[count];
        Arrays.fill(volume, 1e-15);
        for (int i = 0; i < count; i++) {
            int row = i / 10;
            x[i] = -1e-3 + (i % 10) * 1e-5;
            y[i] = 2e-3 + row * 9e-5;
        }

        DispensedFilm film = film(x, y, volume);

        assertThat(film.spacingMetres()).isCloseTo(Math.sqrt(AREA / 100), within(1e-12));
        assertThat(film.metres()[GRID.index(0, 4)]).isPositive();
        assertThat(film.metres()[GRID.index(11, 4)]).isZero();
    }

    @Test
    void drops_at_one_place_are_one_drop() {
        double[] twice = film(new double[] {-5e-4, -5e-4, 0}, new double[] {2.5e-3, 2.5e-3, 2.1e-3}, new double[] {
                    1e-15, 2e-15, 1e-15
                })
                .metres();
        double[] once = film(new double[] {-5e-4, 0}, new double[] {2.5e-3, 2.1e-3}, new double[] {3e-15, 1e-15})
                .metres();

        assertThat(twice).containsExactly(once, within(1e-20));
    }

    @Test
    void drops_outside_are_counted_and_the_first_is_named() {
        DispensedFilm film =
                film(new double[] {0, 1, -5e-4, 1}, new double[] {2.1e-3, 0, 2.5e-3, 1}, new double[] {1, 1, 1, 1});

        assertThat(film.outside()).isEqualTo(2);
        assertThat(film.firstOutside()).isEqualTo(1);
        assertThat(film.cubicMetres()).isEqualTo(2);
    }

    @Test
    void without_drops_inside_there_is_no_film() {
        DispensedFilm film = film(new double[] {1}, new double[] {1}, new double[] {1});

        assertThat(film.metres()).containsOnly(0);
        assertThat(film.outside()).isEqualTo(1);
    }
}
