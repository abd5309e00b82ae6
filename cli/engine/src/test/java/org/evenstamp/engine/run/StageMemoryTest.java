package org.evenstamp.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

class StageMemoryTest {
    private final List<String> work = new ArrayList<>();

    private String make(StageMemory recall, String stage, Object from) {
        return recall.of(stage, () -> from, () -> {
            work.add(stage + " of " + from);
            return stage + " of " + from;
        });
    }

    @Test
    void what_was_made_from_the_same_is_not_made_again() {
        StageMemory recall = new StageMemory(2);
        assertThat(make(recall, "map", List.of(1))).isEqualTo("map of [1]");
        assertThat(make(recall, "map", List.of(1))).isEqualTo("map of [1]");
        assertThat(make(recall, "film", List.of(1))).isEqualTo("film of [1]");

        assertThat(work).containsExactly("map of [1]", "film of [1]");
        assertThat(recall.account()).isEqualTo(new StageMemory.Account(List.of("map", "film"), List.of("map")));
        assertThat(recall.account()).isEqualTo(new StageMemory.Account(List.of(), List.of()));
    }

    @Test
    void only_the_latest_used_of_a_stage_are_kept() {
        StageMemory recall = new StageMemory(2);
        make(recall, "map", 1);
        make(recall, "map", 2);
        make(recall, "map", 1); // used again: 2 is the eldest now
        make(recall, "map", 3);
        work.clear();

        make(recall, "map", 1);
        make(recall, "map", 3);
        assertThat(work).isEmpty();
        make(recall, "map", 2);
        assertThat(work).containsExactly("map of 2");
    }

    @Test
    void what_was_made_while_its_origin_changed_is_not_kept() {
        StageMemory recall = new StageMemory(2);
        AtomicInteger content = new AtomicInteger(1);
        int made = recall.of("map", content::get, content::incrementAndGet);
        assertThat(made).isEqualTo(2);

        content.set(1);
        assertThat(make(recall, "map", 1)).isEqualTo("map of 1");
    }

    @Test
    void work_that_fails_is_tried_again() {
        StageMemory recall = new StageMemory(2);
        assertThatThrownBy(() -> recall.of("map", () -> 1, () -> {
                    throw new IllegalStateException("no");
                }))
                .hasMessage("no");
        assertThat(make(recall, "map", 1)).isEqualTo("map of 1");
    }

    @Test
    void one_that_keeps_nothing_never_asks_what_work_is_made_from() {
        assertThat(new StageMemory(0)
                        .<String>of(
                                "map",
                                () -> {
                                    throw new IllegalStateException("asked");
                                },
                                () -> "made"))
                .isEqualTo("made");
    }
}
