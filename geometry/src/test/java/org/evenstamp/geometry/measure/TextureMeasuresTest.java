package org.evenstamp.geometry.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.geometry.layout.Texture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TextureMeasuresTest {
    private static TextureMeasures of(Texture.Kind kind, double width) {
        return TextureMeasures.of(new Texture(kind, 1, width, 0, Texture.Lattice.SQUARE));
    }

    @Test
    void lines_follow_the_strip_formula() {
        TextureMeasures lines = of(Texture.Kind.LINES, 0.3);
        assertThat(lines.cavityFraction()).isEqualTo(0.3);
        assertThat(lines.edgePerArea()).isEqualTo(2);
        assertThat(lines.squeezeMoment()).isCloseTo(0.343, within(1e-12));
        assertThat(lines.pathMean()).isCloseTo(0.175, within(1e-12));
        assertThat(lines.pathMax()).isCloseTo(0.35, within(1e-12));
    }

    /** Five-point Poisson solve on a periodic cell of 400 x 400, computed apart from this project's code, error below 1 %. */
    @ParameterizedTest
    @CsvSource({
        "0.2, 1.952, 0.292, 0.605",
        "0.4, 0.802, 0.218, 0.504",
        "0.6, 0.298, 0.154, 0.405",
        "0.8, 0.0833, 0.099, 0.305"
    })
    void roundHolesAgreeWithAFineSolveOfTheLatticeCell(double width, double moment, double pathMean, double pathMax) {
        TextureMeasures holes = of(Texture.Kind.HOLES, width);
        assertThat(holes.squeezeMoment() / moment).isCloseTo(1, within(0.015));
        assertThat(holes.pathMean() / pathMean).isCloseTo(1, within(0.01));
        assertThat(holes.pathMax() / pathMax).isCloseTo(1, within(0.01));
    }

    @ParameterizedTest
    @CsvSource({"0.4, 0.00754", "0.6, 0.0382", "0.8, 0.1206"})
    void pillars_follow_the_disc_formula(double width, double moment) {
        assertThat(of(Texture.Kind.PILLARS, width).squeezeMoment() / moment).isCloseTo(1, within(1e-3));
    }

    /** A disc: points lie a third of the radius from its rim in the mean, at most the radius. */
    @Test
    void filmUnderARoundPillarFlowsASixthOfItsWidthInTheMean() {
        TextureMeasures pillars = of(Texture.Kind.PILLARS, 0.6);
        assertThat(pillars.pathMean()).isCloseTo(0.1, within(1e-12));
        assertThat(pillars.pathMax()).isCloseTo(0.3, within(1e-12));
    }

    /**
     * The place farthest from the holes of a hexagonal lattice is the centre of a triangle of them, {@code 1/sqrt(3)} of the pitch from each; that of
     * a square lattice half its diagonal.
     */
    @Test
    void filmBetweenHolesComesFromTheCentreOfATriangleOrASquare() {
        TextureMeasures hexagonal =
                TextureMeasures.of(new Texture(Texture.Kind.HOLES, 1, 0.4, 0, Texture.Lattice.HEXAGONAL));
        assertThat(hexagonal.pathMax()).isCloseTo(0.577350269 - 0.2, within(1e-8));
        assertThat(of(Texture.Kind.HOLES, 0.4).pathMax()).isCloseTo(0.707106781 - 0.2, within(1e-8));
        // the mean by integration of the distance over one of twelve triangles between a hole and its neighbours
        double apothem = 0.5;
        double mean = 0;
        int steps = 2000;
        for (int i = 0; i < steps; i++) {
            double reach = apothem / Math.cos((i + 0.5) / steps * Math.PI / 6);
            // integral of (r - 0.2) r dr from 0.2 to reach
            mean += Math.pow(reach, 3) / 3 - 0.1 * reach * reach + 0.008 / 6;
        }
        mean *= Math.PI / 6 / steps;
        double land = apothem * apothem * Math.tan(Math.PI / 6) / 2 - 0.02 * Math.PI / 6;
        assertThat(hexagonal.pathMean() / (mean / land)).isCloseTo(1, within(0.01));
    }

    @Test
    void hexagonal_holes_of_equal_fraction_squeeze_about_as_the_square_ones() {
        // The same holes, one for the same area: only the arrangement differs.
        double pitch = Math.sqrt(2 / Math.sqrt(3));
        TextureMeasures hexagonal =
                TextureMeasures.of(new Texture(Texture.Kind.HOLES, pitch, 0.4, 0, Texture.Lattice.HEXAGONAL));
        TextureMeasures square = of(Texture.Kind.HOLES, 0.4);
        assertThat(hexagonal.cavityFraction()).isCloseTo(square.cavityFraction(), within(1e-12));
        assertThat(hexagonal.squeezeMoment() / square.squeezeMoment()).isBetween(0.9, 1.0);
    }
}
