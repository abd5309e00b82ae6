package org.evenstamp.shared.thread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@Timeout(30)
class WorkersTest {
    private static final List<Integer> ITEMS = IntStream.range(0, 1000).boxed().toList();

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 7})
    void what_comes_of_items_keeps_their_order_for_any_number_of_threads(int threads) {
        assertThat(Workers.map(ITEMS, threads, i -> i * i))
                .isEqualTo(ITEMS.stream().map(i -> i * i).toList());
        assertThat(Workers.map(List.<Integer>of(), threads, i -> i)).isEmpty();
    }

    @Test
    void several_items_are_worked_on_at_once() throws InterruptedException {
        CountDownLatch both = new CountDownLatch(2);
        Workers.forEach(List.of("a", "b"), 2, item -> {
            both.countDown();
            try {
                assertThat(both.await(20, TimeUnit.SECONDS)).isTrue();
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
        });
        assertThat(both.getCount()).isZero();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 3})
    void every_item_is_worked_on_once_and_a_failure_comes_out(int threads) {
        Set<Integer> done = ConcurrentHashMap.newKeySet();
        Workers.forEach(ITEMS, threads, i -> assertThat(done.add(i)).isTrue());
        assertThat(done).hasSize(ITEMS.size());

        assertThatThrownBy(() -> Workers.forEach(ITEMS, threads, i -> {
                    if (i == 500) {
                        throw new IllegalStateException("item " + i);
                    }
                }))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("item 500");
    }
}
