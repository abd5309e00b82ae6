package org.evenstamp.analysis.numeric;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;

class SharingTrialTest {
    private static final int RUNS = 100;
    private static final long SLOW_NANOS = 3_000_000;

    private final AtomicInteger shared = new AtomicInteger();

    @Test
    void loops_that_take_longer_together_are_soon_left_to_one() {
        assertThat(timesShared(SLOW_NANOS, 0)).isLessThan(RUNS / 10);
    }

    @Test
    void loops_that_take_longer_alone_are_soon_shared() {
        assertThat(timesShared(0, SLOW_NANOS)).isGreaterThan(RUNS * 9 / 10);
    }

    @Test
    void a_team_of_one_has_nothing_to_try() {
        try (ThreadTeam team = new ThreadTeam(1)) {
            AtomicInteger runs = new AtomicInteger();
            new SharingTrial(team).run(runs::incrementAndGet);
            assertThat(runs).hasValue(1);
        }
    }

    /** Returns how many of the runs the second member took part in, each of them slower where waiting is asked for. */
    private int timesShared(long togetherNanos, long aloneNanos) {
        try (ThreadTeam team = new ThreadTeam(2)) {
            SharingTrial trial = new SharingTrial(team);
            for (int run = 0; run < RUNS; run++) {
                trial.run(() -> team.run(
                        (from, to, member) -> {
                            if (member == 1) {
                                shared.incrementAndGet();
                            }
                            LockSupport.parkNanos(to - from == 2 ? aloneNanos : togetherNanos);
                        },
                        2));
            }
        }
        return shared.get();
    }
}
