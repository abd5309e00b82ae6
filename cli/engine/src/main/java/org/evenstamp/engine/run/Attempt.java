package org.evenstamp.engine.run;

import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/**
 * What a piece of work came to, or why not; so that of several at once the same one's failure is always told.
 *
 * @param made what was made; null where that failed
 * @param failure why it failed; null where it did not
 */
public record Attempt<T extends @Nullable Object>(
        @Nullable T made, @Nullable RuntimeException failure) {
    /** Does all of it, on so many threads at once, and waits for all. */
    public static <T extends @Nullable Object> List<Attempt<T>> atOnce(List<Supplier<T>> work, int threads) {
        return Workers.map(work, threads, Attempt::of);
    }

    private static <T extends @Nullable Object> Attempt<T> of(Supplier<T> work) {
        try {
            return new Attempt<>(work.get(), null);
        } catch (RuntimeException e) {
            return new Attempt<>(null, e);
        }
    }

    /** Returns what was made; throws what it failed with. */
    public @Nullable T get() {
        if (failure != null) {
            throw failure;
        }
        return made;
    }
}
