package org.evenstamp.shared.thread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@Timeout(20)
class WorkersStoppingTest {
    private static final String NAME = "workers-test";
    private final AtomicBoolean end = new AtomicBoolean();

    private static long threads() {
        return Thread.getAllStackTraces().keySet().stream()
                .filter(thread -> thread.getName().equals(NAME))
                .count();
    }

    @AfterEach
    void endStubbornWork() throws InterruptedException {
        end.set(true);
        while (threads() > 0) {
            Thread.sleep(1);
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 5})
    void every_worker_returns_what_it_came_to_and_ends(int threads) {
        AtomicInteger next = new AtomicInteger();
        assertThat(Workers.run(NAME, threads, new Progress(), next::getAndIncrement))
                .hasSize(threads)
                .doesNotHaveDuplicates();
        assertThat(Workers.run(NAME, threads, new Progress(), next::getAndIncrement))
                .hasSize(threads);
        assertThat(threads()).isZero();
    }

    @Test
    void a_failure_reaches_the_caller_and_interrupts_the_others() {
        AtomicInteger next = new AtomicInteger();
        AtomicBoolean interrupted = new AtomicBoolean();
        assertThatThrownBy(() -> Workers.run(NAME, 2, new Progress(), () -> {
                    if (next.getAndIncrement() == 0) {
                        throw new IllegalStateException("theirs");
                    }
                    try {
                        new CountDownLatch(1).await();
                    } catch (InterruptedException e) {
                        interrupted.set(true);
                    }
                    return 0;
                }))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("theirs");
        assertThat(interrupted).isTrue();
        assertThat(threads()).isZero();
    }

    @Test
    void cancelling_ends_the_waiting_for_work_that_does_not_listen() {
        Progress progress = new Progress();
        assertThatThrownBy(() -> Workers.run(NAME, 2, progress, () -> stubborn(progress::cancel)))
                .isInstanceOf(CancelledException.class);
        assertThat(threads()).as("left behind").isEqualTo(2);
    }

    @Test
    void interrupting_the_caller_cancels_the_work_and_leaves_it_interrupted() {
        Progress progress = new Progress();
        Thread caller = Thread.currentThread();
        assertThatThrownBy(() -> Workers.run(NAME, 2, progress, () -> stubborn(caller::interrupt)))
                .isInstanceOf(CancelledException.class);
        assertThat(Thread.interrupted()).isTrue();
        assertThat(progress.cancelled()).isTrue();
    }

    private int stubborn(Runnable first) {
        first.run();
        while (!end.get()) {
            Thread.onSpinWait();
        }
        return 0;
    }
}
