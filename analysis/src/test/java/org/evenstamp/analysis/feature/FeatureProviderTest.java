package org.evenstamp.analysis.feature;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import org.evenstamp.analysis.etch.EtchProvider;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FeatureProviderTest {
    private static final double NM = 1e-9;

    private static Trial trial() {
        return new Trial(new FeatureProvider(), 2, 1).lines(0, 300 * NM, 500 * NM, 120 * NM);
    }

    /** By hand: 120 nm x 0.2785 = 33.42 nm stand; 13.6 nm are taken beyond the residual layer of 26.4 nm: 19.8 nm are left. */
    @Test
    void a_tile_that_filled_by_a_quarter_is_etched_from_what_stands_there() {
        Trial.Answer stands = trial().tile(0, ImprintFields.FILL_SHARE, 0.2785).run();
        double height = stands.at(ImprintFields.FEATURE_HEIGHT, 0);
        assertThat(height).isCloseTo(33.42 * NM, within(1e-6 * NM));

        Trial.Answer etched = new Trial(new EtchProvider(), 2, 1)
                .lines(0, 300 * NM, 500 * NM, 120 * NM)
                .standing(0, height, height, height)
                .tile(0, ImprintFields.RESIDUAL_LOCAL, 26.4 * NM)
                .tile(1, ImprintFields.RESIDUAL_LOCAL, 40 * NM)
                .given("etch.vertical-rate", "2 nm/s")
                .given("etch.lateral-rate", "0.1 nm/s")
                .run();
        assertThat(etched.at(EtchProvider.LEFT, 0)).isCloseTo(19.82 * NM, within(1e-3 * NM));
    }

    /** By hand: resin that loses 4 % by curing leaves 115.2 nm of 120; film with 40 % of solvent dries to 72 nm. */
    @Test
    void curing_and_drying_take_their_share_of_the_height() {
        assertThat(trial().given("film.cure-shrinkage", "4 %").run().at(ImprintFields.FEATURE_HEIGHT, 0))
                .isCloseTo(115.2 * NM, within(1e-9 * NM));
        Trial.Answer dried = trial().given("process.kind", "solvent-press")
                .given("process.solvent-share", "40 %")
                .run();
        assertThat(dried.at(ImprintFields.FEATURE_HEIGHT, 0)).isCloseTo(72 * NM, within(1e-9 * NM));
        assertThat(dried.figure("volume.share")).isCloseTo(0.6, within(1e-12));
    }

    @Test
    void the_solved_share_goes_before_that_of_the_tiles_own_film_and_without_either_cavities_are_full() {
        assertThat(trial().run().at(ImprintFields.FEATURE_HEIGHT, 0)).isCloseTo(120 * NM, within(1e-9 * NM));
        Trial own = trial().tile(0, ImprintFields.FILL_SHARE_LOCAL, 0.5);
        assertThat(own.run().at(ImprintFields.FEATURE_HEIGHT, 0)).isCloseTo(60 * NM, within(1e-9 * NM));
        assertThat(own.tile(0, ImprintFields.FILL_SHARE, 0.25).run().at(ImprintFields.FEATURE_HEIGHT, 0))
                .isCloseTo(30 * NM, within(1e-9 * NM));
    }

    @Test
    void tiles_that_are_not_full_are_told_whatever_the_limits() {
        Trial.Answer answer = trial().tile(0, ImprintFields.FILL_SHARE, 0.2785).run();
        assertThat(answer.codes()).containsExactly("features.unfilled");
        assertThat(answer.result().warnings().get(0).message())
                .isEqualTo("not filled: 1 of 1 tiles with cavities, the emptiest only to 27.85 %");
        assertThat(trial().tile(0, ImprintFields.FILL_SHARE, 1).run().codes()).isEmpty();
        assertThat(trial().run().codes()).isEmpty();
    }

    @Test
    void land_has_no_features() {
        Trial.Answer answer = trial().run();
        assertThat(answer.field(ImprintFields.FEATURE_HEIGHT).known(1)).isFalse();
        assertThat(answer.field(ImprintFields.FEATURE_HEIGHT_MAX).known(1)).isFalse();
    }

    /**
     * By hand: a tenth of the tile 100 nm deep and a tenth 300 nm deep hold 40 nm of film; half of it, 20 nm, fills the shallow ones
     * to the roof (10 nm) and the deep ones to 100 nm; three quarters, 30 nm, leave 20 nm in the deep tenth: 200 nm.
     */
    @Test
    void film_stands_equally_high_in_cavities_of_two_depths_until_the_shallow_ones_are_full() {
        assertLevel(0.25, 50, 50, 50);
        assertLevel(0.5, 100, 100, 100);
        assertLevel(0.75, 100, 150, 200);
        assertLevel(1, 100, 200, 300);
    }

    private static void assertLevel(double share, double least, double mean, double most) {
        Trial.Answer answer = trial().tile(0, TileFields.CAVITY_FRACTION, 0.2)
                .tile(0, TileFields.CAVITY_VOLUME, 40 * NM)
                .tile(0, TileFields.CAVITY_DEPTH_MIN, 100 * NM)
                .tile(0, TileFields.CAVITY_DEPTH_MAX, 300 * NM)
                .tile(0, ImprintFields.FILL_SHARE, share)
                .run();
        assertThat(answer.at(ImprintFields.FEATURE_HEIGHT_MIN, 0)).isCloseTo(least * NM, within(1e-6 * NM));
        assertThat(answer.at(ImprintFields.FEATURE_HEIGHT, 0)).isCloseTo(mean * NM, within(1e-6 * NM));
        assertThat(answer.at(ImprintFields.FEATURE_HEIGHT_MAX, 0)).isCloseTo(most * NM, within(1e-6 * NM));
    }

    /** Two depths hold what was put into them, whatever the share. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void no_film_is_made_or_lost_between_two_depths(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double shallow = random.nextDouble(50, 150);
        double deep = random.nextDouble(151, 400);
        double little = random.nextDouble(0.01, 0.4);
        double much = random.nextDouble(0.01, 0.4);
        double share = random.nextDouble();
        double volume = little * shallow + much * deep;
        FilmLevel level = FilmLevel.of(little + much, volume, shallow, deep, share);
        assertThat(little * level.least() + much * level.most()).isCloseTo(share * volume, withinPercentage(1e-9));
        assertThat(level.mean()).isCloseTo(share * volume / (little + much), withinPercentage(1e-9));
        assertThat(level.most()).isLessThanOrEqualTo(deep);
        assertThat(level.least()).isLessThanOrEqualTo(shallow);
    }
}
