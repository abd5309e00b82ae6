package org.evenstamp.analysis.rheology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Optional;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Rows worked out in high precision for a film of 378.15 K and a solvent of 150 K. */
class SwellingTest {
    private final Plasticizer fox = new Plasticizer.Fox(378.15, 150);
    private final Plasticizer kelleyBueche = new Plasticizer.KelleyBueche(378.15, 150, 4.8e-4, 1e-3);

    /** Fox, Bull. Am. Phys. Soc. 1 (1956) 123; Kelley and Bueche, J. Polym. Sci. 50 (1961) 549. */
    @ParameterizedTest
    @CsvSource({"0.05,351.424190,355.605534", "0.10,328.226716,335.264662", "0.20,289.947861,300.016438"})
    void solvent_lowers_the_glass_temperature_as_worked(double fraction, double byFox, double byKelleyBueche) {
        assertThat(fox.glassKelvin(fraction)).isCloseTo(byFox, withinPercentage(1e-4));
        assertThat(kelleyBueche.glassKelvin(fraction)).isCloseTo(byKelleyBueche, withinPercentage(1e-4));
    }

    @Test
    void dry_film_keeps_its_glass_temperature_and_bad_fractions_are_refused() {
        assertThat(fox.glassKelvin(0)).isCloseTo(378.15, withinPercentage(1e-12));
        assertThat(kelleyBueche.glassKelvin(0)).isCloseTo(378.15, withinPercentage(1e-12));
        assertThatThrownBy(() -> fox.glassKelvin(1)).isInstanceOf(InputException.class);
        assertThatThrownBy(() -> fox.glassKelvin(-0.1)).hasMessageContaining("-0.100000");
        assertThatThrownBy(() -> fox.glassKelvin(Double.NaN)).isInstanceOf(InputException.class);
    }

    @Test
    void swollen_film_flows_as_the_dry_one_at_the_same_distance_from_its_glass_temperature() {
        Wlf dry = UniversalWlf.law(1e12, 378.15);
        FilmLaw film = new FilmLaw(dry, Optional.of(fox), Optional.empty(), new ShearThinning.None());

        double swollenGlass = film.glassKelvin(0.2);
        assertThat(film.at(swollenGlass + 30, 0.2).pascalSeconds())
                .isCloseTo(dry.pascalSeconds(378.15 + 30), withinPercentage(1e-9));
        assertThat(film.at(swollenGlass, 0.2).pascalSeconds()).isCloseTo(1e12, withinPercentage(1e-9));
        assertThatThrownBy(() -> film.at(swollenGlass - 1, 0.2)).isInstanceOf(InputException.class);
        assertThat(film.at(400, 0)).isEqualTo(dry.at(400));
    }

    @Test
    void swelling_and_drying_undo_each_other_and_curing_shrinks_the_thickness_by_the_volume() {
        // Volume balance: 8 of 10 parts are polymer.
        assertThat(FilmThickness.swollen(200e-9, 0.2)).isCloseTo(250e-9, withinPercentage(1e-10));
        assertThat(FilmThickness.dried(FilmThickness.swollen(200e-9, 0.37), 0.37))
                .isCloseTo(200e-9, withinPercentage(1e-10));
        assertThat(FilmThickness.cured(100e-9, 0.04)).isCloseTo(96e-9, withinPercentage(1e-10));
        assertThatThrownBy(() -> FilmThickness.cured(100e-9, 1)).hasMessageContaining("the cure shrinkage is 1");
    }
}
