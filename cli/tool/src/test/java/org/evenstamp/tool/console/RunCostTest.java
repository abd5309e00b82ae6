package org.evenstamp.tool.console;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicLong;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.api.Test;

class RunCostTest {
    private final AtomicLong nanos = new AtomicLong(5);
    private final Progress progress = new Progress(nanos::get);

    private void pass(long millis) {
        nanos.addAndGet(millis * 1_000_000);
    }

    @Test
    void stages_of_one_name_share_a_row_and_outer_stages_hold_the_time_of_inner_ones() {
        try (Stage reading = progress.stage("reading", 0, "bytes")) {
            reading.advance(2_500_000);
            pass(250);
        }
        try (Stage rounds = progress.stage("rounds", 2, "rounds")) {
            for (int round = 0; round < 2; round++) {
                try (Stage solving = progress.stage("solving", 0, "iterations")) {
                    solving.advance(30 + round);
                    pass(1000);
                }
                rounds.advance(1);
            }
            pass(1);
        }
        pass(7000); // nothing is open any more

        assertThat(RunCost.of(progress.stages(), 9.2514, 123_400_000).replace("\r", ""))
                .isEqualTo("""
                        stage    times    seconds  amount
                        reading      1      0.250  2.5 MB
                        rounds       1      2.001  2 rounds
                        solving      2      2.000  61 iterations
                        9.251 s in all, heap at most 124 MB
                        """);
    }

    @Test
    void a_stage_that_is_closed_twice_ended_the_first_time() {
        Stage stage = progress.stage("reading", 0, "bytes");
        pass(500);
        stage.close();
        pass(500);
        stage.close();

        assertThat(stage.seconds()).isEqualTo(0.5);
    }

    @Test
    void a_stage_that_is_still_open_counts_until_now() {
        Stage stage = progress.stage("reading", 0, "bytes");
        pass(500);

        assertThat(stage.seconds()).isEqualTo(0.5);
    }

    @Test
    void where_nothing_was_computed_there_is_no_table() {
        assertThat(RunCost.of(progress.stages(), 0.1, 1).strip()).isEqualTo("0.100 s in all, heap at most 1 MB");
    }

    @Test
    void the_peak_of_the_heap_is_not_below_what_is_held() {
        byte[] held = new byte[20_000_000];

        assertThat(RunCost.peakHeapBytes()).isGreaterThan(held.length);
    }
}
