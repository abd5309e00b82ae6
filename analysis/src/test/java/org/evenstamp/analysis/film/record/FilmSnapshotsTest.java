package org.evenstamp.analysis.film.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FilmSnapshotsTest {
    private static final double[] NOTHING = new double[2];

    @Test
    void states_are_kept_at_the_asked_times_only() {
        FilmSnapshots states = FilmSnapshots.at(new double[] {3, 1, 8});
        for (int i = 0; i < 6; i++) {
            states.offer(i, new double[] {i, i}, NOTHING);
        }

        assertThat(states.all()).extracting(FilmSnapshots.State::seconds).containsExactly(1.0, 3.0);
        assertThat(states.all().get(1).gap()).containsExactly(3, 3);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void neighbours_along_the_way_are_never_closer_than_the_last_distance(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        FilmSnapshots states = FilmSnapshots.along(12, 1);
        double way = 1;
        double most = 0;
        for (int i = 0; i < 500; i++) {
            double step = Math.pow(way, 3) * random.nextDouble() * 0.02;
            most = Math.max(most, step);
            way -= step;
            states.offer(i, new double[] {way, way}, NOTHING);
        }

        List<FilmSnapshots.State> kept = states.all();
        assertThat(kept).hasSizeBetween(6, 12);
        assertThat(kept.get(0).seconds()).isZero();
        double nearest = Double.POSITIVE_INFINITY;
        double farthest = 0;
        for (int i = 1; i < kept.size(); i++) {
            double distance = kept.get(i).distance(kept.get(i - 1).gap(), NOTHING);
            nearest = Math.min(nearest, distance);
            farthest = Math.max(farthest, distance);
        }
        // Thinning keeps every second state at best, so a gap may reach twice the least distance and some steps.
        assertThat(farthest).isLessThan(3 * nearest + 2 * most);
    }

    @Test
    void where_there_is_room_for_few_states_none_is_kept() {
        FilmSnapshots states = FilmSnapshots.along(2, 1);
        states.offer(0, new double[] {1, 1}, NOTHING);
        states.offer(1, new double[] {0.5, 0.5}, NOTHING);

        assertThat(states.all()).isEmpty();
    }
}
