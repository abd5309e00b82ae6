package org.evenstamp.analysis.stress;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.analysis.release.ReleaseProvider;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.junit.jupiter.api.Test;

/** Polystyrene that sets while solvent is left in it, and resin that cures: 3.2 GPa, 0.34, strength 45 MPa. */
class ShrinkageTest {
    private static Trial film(AnalysisProvider provider) {
        return new Trial(provider, 1, 1)
                .lines(0, 100e-9, 300e-9, 200e-9)
                .given("film.modulus", "3.2 GPa")
                .given("film.poisson", "0.34 1")
                .given("film.strength", "45 MPa")
                .given("film.expansion", "70e-6 1/K")
                .given("film.set-temperature", "25 degC")
                .given("release.temperature", "25 degC")
                .given("stamp.expansion", "70e-6 1/K");
    }

    private static Trial stress() {
        return film(new FrozenStressProvider())
                .everywhere(ImprintFields.FILL_TIME_FREE, 1)
                .given("film.viscosity", "1e3 Pa s")
                .given("process.hold", "30 s")
                .given("film.plateau-modulus", "3e5 Pa");
    }

    private static Trial swollen(Trial trial, String share) {
        return trial.given("process.kind", "solvent-press")
                .given("process.solvent-share", share)
                .given("process.temperature", "25 degC")
                .given("film.glass-temperature", "100 degC")
                .given("film.solvent-glass-temperature", "150 K");
    }

    /**
     * By hand, Fox: 1/298.15 = (1 - w)/373.15 + w/150 at w = 0.1691; a third of it, 5.636 %, is kept from shrinking: 3.2/0.66 GPa x 5.636 % =
     * 273 MPa, 6.07 times the strength.
     */
    @Test
    void film_that_dries_after_it_has_set_pulls_at_its_substrate_and_on_the_stamp() {
        Trial.Answer answer = swollen(stress(), "40 %").run();
        assertThat(answer.figure("set.solvent")).isCloseTo(0.16909, within(1e-5));
        assertThat(answer.figure("drying")).isCloseTo(0.05636, within(1e-5));
        assertThat(answer.at(FrozenStressProvider.FILM, 0)).isCloseTo(273.3e6, within(0.1e6));
        assertThat(answer.at(FrozenStressProvider.CRACK, 0)).isCloseTo(6.07, within(0.01));
        assertThat(answer.at(FrozenStressProvider.THERMAL, 0)).isCloseTo(273.3e6, within(0.1e6));
    }

    /** Croll, J. Appl. Polym. Sci. 23 (1979) 847, abstract: the stress of cast films does not depend on the first concentration. */
    @Test
    void how_much_solvent_there_was_before_it_set_does_not_matter() {
        double less = swollen(stress(), "30 %").run().at(FrozenStressProvider.FILM, 0);
        double more = swollen(stress(), "60 %").run().at(FrozenStressProvider.FILM, 0);
        assertThat(more).isCloseTo(less, withinPercentage(1e-9));
    }

    /** A film that never has as much solvent as it sets with dries from what it has: 10 %, a third of it 3.33 %. */
    @Test
    void film_with_less_solvent_than_it_sets_with_shrinks_by_what_it_has() {
        assertThat(swollen(stress(), "10 %").run().figure("drying")).isCloseTo(0.1 / 3, within(1e-12));
        assertThat(stress().run().figure("drying")).isZero();
    }

    /** By hand: 4 % of the volume, a third of it, 1.333 %, times 3.2/0.66 GPa: 64.6 MPa. */
    @Test
    void film_that_cures_pulls_at_its_substrate() {
        Trial.Answer answer = stress().given("film.cure-shrinkage", "4 %").run();
        assertThat(answer.at(FrozenStressProvider.FILM, 0)).isCloseTo(64.65e6, within(0.01e6));
    }

    /** Worked: 70e-6 against 2.6e-6 over 105 to 25 degC: strain 0.005392; 3 GPa, 0.35: 24.8861538 MPa. Glass pressed on a metal does not crack. */
    @Test
    void film_that_cools_on_a_substrate_that_shrinks_less_is_in_tension() {
        Trial trial = stress().given("film.modulus", "3 GPa")
                .given("film.poisson", "0.35 1")
                .given("film.set-temperature", "105 degC");
        assertThat(trial.run().at(FrozenStressProvider.FILM, 0)).isZero();
        assertThat(trial.given("release.substrate-expansion", "2.6e-6 1/K")
                        .run()
                        .at(FrozenStressProvider.FILM, 0))
                .isCloseTo(24.8861538e6, withinPercentage(1e-6));
        assertThat(trial.given("release.substrate-expansion", "90e-6 1/K").run().at(FrozenStressProvider.FILM, 0))
                .isZero();
    }

    @Test
    void release_sees_the_grip_of_film_that_has_dried() {
        Trial release = film(new ReleaseProvider())
                .given("film.surface-energy", "34 mJ/m^2")
                .given("stamp.modulus", "3.4 GPa")
                .given("stamp.poisson", "0.38 1")
                .given("stamp.thickness", "100 um")
                .given("release.stamp-energy", "15 mJ/m^2")
                .given("release.friction", "0.2 1")
                .given("release.substrate-expansion", "2.6e-6 1/K");
        assertThat(release.run().at(ReleaseProvider.FRICTION, 0)).isZero();
        Trial.Answer dried =
                swollen(release, "40 %").given("release.mode", "pull").run();
        assertThat(dried.figure("shrinkage")).isCloseTo(0.05636, within(1e-5));
        // by hand: a ring of film, a quarter of the area, grips with 3.2 GPa x 5.636 % / 4 / (0.66 x 0.75 + 1.34) =
        // 24.57 MPa; 0.2 of
        // it on walls of 2 x 200/100 of the foot's area, twice that at its corner, over 45 MPa
        assertThat(dried.at(ReleaseProvider.FRICTION, 0)).isCloseTo(0.8736, within(5e-4));
    }
}
