package org.evenstamp.geometry.scatter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.function.DoubleBinaryOperator;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PointValuesTest {
    private static final double MM = 1e-3;
    private static final TileGrid GRID = new TileGrid(-6 * MM, -4 * MM, 0.4 * MM, 30, 20);

    private static double plane(double x, double y) {
        return 250e-9 + 3e-6 * x - 2e-6 * y;
    }

    private static PointValues scattered(long seed, int count, double half, DoubleBinaryOperator law) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] x = new double[count + 4];
        double[] y = new double[count + 4];
        for (int i = 0; i < count; i++) {
            x[i] = random.nextDouble(-half, half);
            y[i] = random.nextDouble(-half, half);
        }
        for (int corner = 0; corner < 4; corner++) {
            x[count + corner] = (corner & 1) == 0 ? -half : half;
            y[count + corner] = (corner & 2) == 0 ? -half : half;
        }
        return PointValues.of(x, y, values(x, y, law)).orElseThrow();
    }

    private static double[] values(double[] x, double[] y, DoubleBinaryOperator law) {
        double[] value = new double[x.length];
        Arrays.setAll(value, i -> law.applyAsDouble(x[i], y[i]));
        return value;
    }

    private static PointValues lattice(double[] columns, double[] rows, DoubleBinaryOperator law) {
        double[] x = new double[columns.length * rows.length];
        double[] y = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            x[i] = columns[i % columns.length];
            y[i] = rows[i / columns.length];
        }
        return PointValues.of(x, y, values(x, y, law)).orElseThrow();
    }

    private static void assertFollows(PointValues.OnTiles tiles, DoubleBinaryOperator law) {
        for (int i = 0; i < GRID.size(); i++) {
            double wanted = law.applyAsDouble(GRID.centreXMetres(GRID.column(i)), GRID.centreYMetres(GRID.row(i)));
            assertThat(tiles.values()[i]).as("tile %d", i).isCloseTo(wanted, within(1e-12 * Math.abs(wanted)));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void scattered_points_reproduce_a_plane(long seed) {
        PointValues.OnTiles tiles =
                scattered(seed, 60, 7 * MM, PointValuesTest::plane).on(GRID);

        assertThat(tiles.beyond()).isZero();
        assertFollows(tiles, PointValuesTest::plane);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void a_constant_stays_constant_even_beyond_the_points(long seed) {
        PointValues.OnTiles tiles = scattered(seed, 40, 3 * MM, (x, y) -> 2e-7).on(GRID);

        assertThat(tiles.beyond()).isPositive();
        assertFollows(tiles, (x, y) -> 2e-7);
    }

    @Test
    void points_a_rounding_apart_are_refused_and_not_a_defect() {
        double[] x = {0, 1 * MM, 0, 1 * MM};
        double[] y = {0, 0, 1 * MM, 1e-323};

        assertThat(PointValues.of(x, y, new double[4])).isEmpty();
    }

    @Test
    void columns_and_rows_reproduce_what_is_linear_along_both() {
        double[] columns = {-7 * MM, -2 * MM, 1 * MM, 6.5 * MM};
        double[] rows = {-5 * MM, 0.3 * MM, 4.1 * MM};
        DoubleBinaryOperator twisted = (x, y) -> 250e-9 + 3e-6 * x - 2e-6 * y + 1e-3 * x * y;

        assertFollows(lattice(columns, rows, twisted).on(GRID), twisted);
        assertFollows(lattice(columns, rows, PointValuesTest::plane).on(GRID), PointValuesTest::plane);
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13})
    void no_value_leaves_the_range_of_the_points(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        PointValues.OnTiles tiles =
                scattered(seed, 50, 5 * MM, (x, y) -> random.nextDouble(1, 2)).on(GRID);

        assertThat(Arrays.stream(tiles.values()).min().orElseThrow()).isGreaterThanOrEqualTo(1);
        assertThat(Arrays.stream(tiles.values()).max().orElseThrow()).isLessThanOrEqualTo(2);
    }

    @Test
    void beyond_the_points_the_nearest_place_of_their_rim_counts() {
        // 3 x 3 points from -5 to 5 mm: a spacing of 10/3 mm
        double[] three = {-5 * MM, 0, 5 * MM};
        PointValues points = lattice(three, three, (x, y) -> x);

        PointValues.OnTiles tiles = points.on(GRID);

        assertThat(points.spacingMetres()).isCloseTo(10 * MM / 3, within(1e-12));
        assertThat(tiles.beyond())
                .isEqualTo(2 * 2 * 20); // centres at 5.4 and 5.8 mm; those at 5.0 mm are on the rim, to rounding
        assertThat(tiles.values()[GRID.index(29, 10)]).isCloseTo(5 * MM, within(1e-12));
        assertThat(tiles.farthestMetres()).isCloseTo(0.8 * MM, within(1e-12));
        assertThat(tiles.uncovered()).isZero();
    }

    @Test
    void tiles_far_from_all_points_are_counted() {
        PointValues.OnTiles tiles =
                scattered(5, 60, 2 * MM, PointValuesTest::plane).on(GRID); // spacing 0.5 mm

        assertThat(tiles.uncovered()).isBetween(1, tiles.beyond());
        assertThat(GRID.column(tiles.farthestTile())).isIn(0, 29);
        assertThat(tiles.farthestMetres()).isCloseTo(Math.hypot(3.8 * MM, 1.8 * MM), within(1e-9));
    }

    @Test
    void points_without_area_give_nothing() {
        double[] x = {0, 1, 2, 3};
        double[] y = {0, 2, 4, 6};

        assertThat(PointValues.of(x, y, x)).isEmpty();
        assertThat(PointValues.of(new double[] {1}, new double[] {1}, new double[] {1}))
                .isEmpty();
        assertThat(PointValues.of(new double[] {0, 1}, new double[] {0, 1}, new double[] {1, 1}))
                .isEmpty();
    }
}
