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
