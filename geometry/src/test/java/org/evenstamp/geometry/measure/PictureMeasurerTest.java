package org.evenstamp.geometry.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class PictureMeasurerTest {
    private static final int CELLS = 72;

    /** Land drawn by polygons on a picture of 72 x 72 cells of size 1, cavity around it. */
    private static PictureMeasures pads(PackedPolygon... pads) {
        CoverageSums sums = new CoverageSums(CELLS, CELLS, 0, 0, 1);
        for (PackedPolygon pad : pads) {
            sums.add(pad);
        }
        return new PictureMeasurer(CELLS, CELLS, true).measure(sums.coverage(), 0, 0);
    }

    private static PackedPolygon rectangle(double width, double height) {
        // Off the cell lines on purpose.
        return Polygons.of(
                Polygons.rectangle(36.3 - width / 2, 35.9 - height / 2, 36.3 + width / 2, 35.9 + height / 2));
    }

    /**
     * Saint-Venant torsion constants J: 12 times the integral of the torsion function is 3 J. Rectangles from the series
     * (Timoshenko and Goodier's table rounded: 0.1406, 0.229, 0.291, 0.312); disc pi R^4/2; ellipse pi a^3 b^3/(a^2+b^2);
     * equilateral triangle sqrt(3) a^4/80; annulus with both rims free, evaluated from its closed form.
     */
    static Stream<Arguments> torsionTable() {
        double annulus = Math.PI / 2 * (Math.pow(20, 4) - Math.pow(10, 4) - Math.pow(300, 2) / Math.log(2));
        double a = 41;
        return Stream.of(
                Arguments.of("square", rectangle(31, 31), 0.140577015 * Math.pow(31, 4)),
                Arguments.of("rectangle 2:1", rectangle(40.7, 20.35), 0.228681677 * 2 * Math.pow(20.35, 4)),
                Arguments.of("rectangle 1:3", rectangle(13.1, 39.3), 0.263316931 * 3 * Math.pow(13.1, 4)),
                Arguments.of("rectangle 5:1", rectangle(55.5, 11.1), 0.291316754 * 5 * Math.pow(11.1, 4)),
                Arguments.of("rectangle 10:1", rectangle(62, 6.2), 0.312325037 * 10 * Math.pow(6.2, 4)),
                Arguments.of("disc", Polygons.of(Polygons.disc(36.2, 35.7, 14, 200)), Math.PI / 2 * Math.pow(14, 4)),
                Arguments.of(
                        "ellipse 2:1",
                        Polygons.mapped(Polygons.of(Polygons.disc(0, 0, 1, 200)), 24, 0, 36.1, 0, 12, 35.8),
                        Math.PI * Math.pow(24, 3) * Math.pow(12, 3) / (24 * 24 + 12 * 12)),
                Arguments.of(
                        "triangle",
                        Polygons.of(
                                new double[] {15.3, 20.2, 15.3 + a, 20.2, 15.3 + a / 2, 20.2 + a * Math.sqrt(3) / 2}),
                        Math.sqrt(3) / 80 * Math.pow(a, 4)),
                Arguments.of(
                        "annulus 2:1",
                        Polygons.of(Polygons.disc(36.2, 35.7, 20, 200), Polygons.disc(36.2, 35.7, 10, 200)),
                        annulus));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("torsionTable")
    void squeeze_moment_of_a_pad_is_three_times_its_torsion_constant(
            String name, PackedPolygon pad, double torsionConstant) {
        PictureMeasures measures = pads(pad);
        assertThat(measures.converged()).isTrue();
        assertThat(measures.torsion() / (3 * torsionConstant)).isCloseTo(1, within(0.005));
    }

    /** A strip of width s has 12 times its mean torsion function equal to s squared, at any place on the cells. */
    @ParameterizedTest
    @MethodSource("stripWidths")
    void squeeze_moment_and_flow_paths_of_a_strip_follow_its_width(double width, double shift) {
        PictureMeasures measures = pads(Polygons.of(Polygons.rectangle(30 + shift, -5, 30 + shift + width, 80)));
        assertThat(measures.torsion() / (72 * Math.pow(width, 3))).isCloseTo(1, within(1e-4));
        assertThat(measures.pathSum() / measures.landCells()).isCloseTo(width / 4, within(0.03 * width));
        assertThat(measures.pathMax()).isCloseTo(width / 2, within(1e-9));
    }

    static Stream<Arguments> stripWidths() {
        return Stream.of(4.0, 5.3, 8.0, 12.5, 30.0)
                .flatMap(width -> Stream.of(0.0, 0.25, 0.5, 0.8).map(shift -> Arguments.of(width, shift)));
    }

    @Test
    void flow_paths_of_a_square_and_of_a_disc_follow_their_closed_forms() {
        PictureMeasures square = pads(rectangle(36, 36));
        assertThat(square.pathSum() / square.landCells()).isCloseTo(6, within(0.1));
        assertThat(square.pathMax()).isCloseTo(18, within(0.5));
        PictureMeasures disc = pads(Polygons.of(Polygons.disc(36.5, 36.5, 20, 300)));
        assertThat(disc.pathSum() / disc.landCells()).isCloseTo(20 / 3.0, within(0.1));
        assertThat(disc.pathMax()).isCloseTo(20, within(0.5));
    }

    @Test
    void picture_without_cavity_has_no_moment_and_no_path() {
        double[] land = new double[CELLS * CELLS];
        java.util.Arrays.fill(land, 1);
        PictureMeasures measures = new PictureMeasurer(CELLS, CELLS, true).measure(land, 0, 0);
        assertThat(measures.torsion()).isZero();
        assertThat(measures.pathMax()).isZero();
        assertThat(measures.landCells()).isEqualTo(CELLS * CELLS);
    }

    /** Oracle for the distance map: every cell against every cell. */
    @Test
    void distances_are_those_of_the_slow_search() {
        java.util.SplittableRandom random = new java.util.SplittableRandom(7);
        int n = 30;
        double[] share = new double[n * n];
        for (int i = 0; i < share.length; i++) {
            share[i] = random.nextInt(12) == 0 ? 0 : 1;
        }
        double[] distance = new double[n * n];
        assertThat(new DistanceMap(n, n).measure(share, distance)).isTrue();
        for (int i = 0; i < share.length; i++) {
            double nearest = Double.POSITIVE_INFINITY;
            for (int j = 0; j < share.length; j++) {
                if (share[j] == 0) {
                    nearest = Math.min(nearest, Math.sqrt(square(i % n - j % n) + square(i / n - j / n)));
                }
            }
            assertThat(distance[i]).isCloseTo(share[i] == 0 ? 0 : nearest - 0.5, within(1e-12));
        }
    }

    private static double square(int value) {
        return (double) value * value;
    }
}
