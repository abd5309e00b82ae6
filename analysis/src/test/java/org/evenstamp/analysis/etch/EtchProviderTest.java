package org.evenstamp.analysis.etch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.progress.CancelledException;
import org.junit.jupiter.api.Test;

class EtchProviderTest {
    /** Three gratings over residual layers of 58, 44 and 48 nm (mean 50), and a tile that is cavity all over. */
    private static Trial trial() {
        return new Trial(new EtchProvider(), 4, 1)
                .lines(0, 100e-9, 100e-9, 150e-9)
                .lines(1, 100e-9, 100e-9, 150e-9)
                .lines(2, 100e-9, 100e-9, 150e-9)
                .tile(3, TileFields.CAVITY_FRACTION, 1)
                .tile(3, TileFields.CAVITY_VOLUME, 150e-9)
                .tile(0, ImprintFields.RESIDUAL_LOCAL, 58e-9)
                .tile(1, ImprintFields.RESIDUAL_LOCAL, 44e-9)
                .tile(2, ImprintFields.RESIDUAL_LOCAL, 48e-9)
                .tile(3, ImprintFields.RESIDUAL_LOCAL, 10e-9)
                .given("etch.vertical-rate", "2 nm/s")
                .given("etch.lateral-rate", "0.1 nm/s");
    }

    /** Worked figures: thickest clear at 29 s; 14 nm of height lost in the thin tile; U1 14 %, U2 13.7254902 %. */
    @Test
    void the_whole_stamp_is_clear_after_the_thickest_and_the_thinnest_pays() {
        Trial.Answer answer = trial().run();
        assertThat(answer.at(EtchProvider.CLEAR, 0)).isCloseTo(29, within(1e-9));
        assertThat(answer.at(EtchProvider.CLEAR, 1)).isCloseTo(22, within(1e-9));
        assertThat(answer.at(EtchProvider.LEFT, 0)).isCloseTo(150e-9, within(1e-16));
        assertThat(answer.at(EtchProvider.LEFT, 1)).isCloseTo(136e-9, within(1e-16));
        assertThat(answer.at(EtchProvider.CD_LOSS, 1)).isCloseTo(5.8e-9, within(1e-16));
        assertThat(answer.at(EtchProvider.WIDTH, 1)).isCloseTo(94.2e-9, within(1e-16));
        assertThat(answer.figure("uniformity.u1")).isCloseTo(0.14, within(1e-9));
        assertThat(answer.figure("uniformity.u2")).isCloseTo(0.137254902, within(1e-9));
        assertThat(answer.figure("residual.excess")).isCloseTo(0.16, within(1e-9));
        assertThat(answer.figure("earliest")).isCloseTo(29, within(1e-9));
        assertThat(answer.figure("latest")).isCloseTo(97, within(1e-9)); // (44 + 150)/2
        assertThat(answer.at(EtchProvider.INDEX, 1)).isCloseTo(29.0 / 97, within(1e-9));
        assertThat(answer.codes()).containsExactly("etch.loss-even");
    }

    @Test
    void a_tile_that_is_all_cavity_has_nothing_to_clear() {
        Trial.Answer answer = trial().run();
        assertThat(answer.field(EtchProvider.CLEAR).known(3)).isFalse();
        assertThat(answer.field(EtchProvider.LEFT).known(3)).isFalse();
    }

    @Test
    void the_solved_residual_goes_before_the_local_one() {
        Trial.Answer answer =
                trial().everywhere(ImprintFields.RESIDUAL_FINAL, 30e-9).run();
        assertThat(answer.at(EtchProvider.CLEAR, 0)).isCloseTo(15, within(1e-9));
    }

    @Test
    void a_closed_window_names_its_tiles_and_the_spread_that_would_open_it() {
        Trial.Answer answer = trial().given("etch.least-height", "143 nm").run();
        // the tile of 44 nm may lose 7 nm: it bears 25.5 s
        assertThat(answer.figure("window")).isCloseTo(25.5 - 29, within(1e-9));
        assertThat(answer.figure("spread.open")).isCloseTo(7e-9, within(1e-18));
        assertThat(answer.at(EtchProvider.INDEX, 1)).isGreaterThan(1);
        assertThat(answer.at(EtchProvider.INDEX, 0)).isLessThan(1);
        assertThat(answer.codes()).containsExactly("etch.no-window", "etch.loss-even");
        assertThat(answer.result().warnings().get(0).place())
                .isInstanceOfSatisfying(
                        Place.Tile.class, tile -> assertThat(tile.column()).isEqualTo(1));
        assertThat(answer.result().warnings().get(0).message())
                .contains("7.00 nm", "last in column 0, row 0", "in 2 tiles from 25.50 s");
    }

    @Test
    void features_vanish_under_a_lateral_rate_that_is_too_high() {
        Trial.Answer answer = trial().given("etch.lateral-rate", "2.5 nm/s").run();
        assertThat(answer.at(EtchProvider.LEFT, 0)).isZero();
        assertThat(answer.at(EtchProvider.WIDTH, 0)).isZero();
        assertThat(answer.codes()).containsExactly("etch.no-window", "etch.features-gone", "etch.loss-even");
        assertThat(answer.result().warnings().get(0).message()).contains("would not open it");
    }

    @Test
    void features_too_small_from_the_start_state_a_bounded_index() {
        Trial.Answer answer = trial().given("etch.least-width", "200 nm").run();
        assertThat(answer.at(EtchProvider.INDEX, 0)).isEqualTo(1000);
        assertThat(answer.result().figures()).extracting(f -> f.id()).doesNotContain("latest", "window", "spread.open");
    }

    @Test
    void over_etch_takes_height_everywhere() {
        Trial.Answer answer = trial().given("etch.over-etch", "10 %").run();
        assertThat(answer.figure("stop")).isCloseTo(31.9, within(1e-9));
        assertThat(answer.at(EtchProvider.LEFT, 0)).isCloseTo(150e-9 - 5.8e-9, within(1e-16));
    }

    @Test
    void leaning_walls_lose_width_in_the_thin_tile() {
        Trial.Answer answer = trial().given("etch.lateral-rate", "0 nm/s")
                .given("etch.wall-angle", "85 deg")
                .run();
        assertThat(answer.at(EtchProvider.CD_LOSS, 1)).isCloseTo(2.44968258e-9, within(1e-16));
        assertThat(answer.at(EtchProvider.CD_LOSS, 0)).isCloseTo(0, within(1e-20));
    }

    @Test
    void a_map_without_residual_values_is_answered_without_values() {
        Trial.Answer answer =
                trial().everywhere(ImprintFields.RESIDUAL_LOCAL, Double.NaN).run();
        assertThat(answer.result().fields()).allMatch(field -> field.knownCount() == 0);
    }

    /**
     * By hand, L = 1: until they are clear 40 and 60 nm go at 2/(1+1) nm/s, in 40 and 60 s; then the first tile, a quarter of film, loses height
     * at 2/1.25 = 1.6 nm/s for 20 s: 32 nm of 200.
     */
    @Test
    void loading_counts_all_film_before_clearing_and_the_features_after_it() {
        Trial.Answer answer = new Trial(new EtchProvider(), 2, 1)
                .lines(0, 1e-6, 3e-6, 200e-9)
                .lines(1, 1e-6, 1e-6, 200e-9)
                .tile(0, ImprintFields.RESIDUAL_LOCAL, 40e-9)
                .tile(1, ImprintFields.RESIDUAL_LOCAL, 60e-9)
                .given("etch.vertical-rate", "2 nm/s")
                .given("etch.lateral-rate", "0.1 nm/s")
                .given("etch.loading", "1 1")
                .run();
        assertThat(answer.at(EtchProvider.CLEAR, 0)).isCloseTo(40, within(1e-9));
        assertThat(answer.at(EtchProvider.CLEAR, 1)).isCloseTo(60, within(1e-9));
        assertThat(answer.at(EtchProvider.LEFT, 0)).isCloseTo(168e-9, within(1e-15));
        // at each wall 0.05 nm/s for 40 s and 0.08 nm/s for 20 s
        assertThat(answer.at(EtchProvider.CD_LOSS, 0)).isCloseTo(7.2e-9, within(1e-15));
    }

    /** By hand: over 300 um each tile of 100 um sees itself and its neighbours, (0.25 + 0.5)/2 = 0.375 at the rim of two: 2/1.375 nm/s. */
    @Test
    void loading_reaches_as_far_as_the_user_says() {
        Trial.Answer answer = new Trial(new EtchProvider(), 2, 1)
                .lines(0, 1e-6, 3e-6, 200e-9)
                .lines(1, 1e-6, 1e-6, 200e-9)
                .tile(0, ImprintFields.RESIDUAL_LOCAL, 40e-9)
                .tile(1, ImprintFields.RESIDUAL_LOCAL, 60e-9)
                .given("etch.vertical-rate", "2 nm/s")
                .given("etch.lateral-rate", "0.1 nm/s")
                .given("etch.loading", "1 1")
                .given("etch.loading-length", "300 um")
                .run();
        assertThat(answer.at(EtchProvider.LEFT, 0)).isCloseTo(200e-9 - 20 * 2e-9 / 1.375, within(1e-15));
    }

    @Test
    void it_can_be_stopped() {
        assertThatThrownBy(() -> trial().cancelled().run()).isInstanceOf(CancelledException.class);
    }
}
