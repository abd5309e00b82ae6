package org.evenstamp.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;

class AttemptTest {
    @Test
    void the_first_of_two_failures_is_told_though_the_second_came_sooner() {
        CountDownLatch secondFails = new CountDownLatch(1);
        Supplier<String> first = () -> {
            try {
                secondFails.await();
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
            throw new IllegalStateException("first");
        };
        Supplier<String> second = () -> {
            secondFails.countDown();
            throw new IllegalStateException("second");
        };

        List<Attempt<String>> both = Attempt.atOnce(List.of(first, second), 2);

        assertThatIllegalStateException().isThrownBy(() -> both.get(0).get()).withMessage("first");
        assertThatIllegalStateException().isThrownBy(() -> both.get(1).get()).withMessage("second");
    }

    @Test
    void what_was_made_comes_in_the_order_of_the_work() {
        List<Attempt<String>> both = Attempt.atOnce(List.of(() -> "a", () -> "b"), 2);

        assertThat(both).extracting(Attempt::get).containsExactly("a", "b");
    }
}
