package org.evenstamp.engine.run;

import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.shared.thread.Workers;
import org.jspecify.annotations.Nullable;

/** What a piece of work came to, or why not; so that of several at once the same one's failure is always told. */
record Attempt<T extends @Nullable Object>(
        @Nullable T made, @Nullable RuntimeException failure) {
    /** Does all of it at once, and waits for all. */
    static <T extends @Nullable Object> List<Attempt<T>> atOnce(List<Supplier<T>> work) {
        return Workers.map(work, work.size(), Attempt::of);
    }

    private static <T extends @Nullable Object> Attempt<T> of(Supplier<T> work) {
        try {
            return new Attempt<>(work.get(), null);
        } catch (RuntimeException e) {
            return new Attempt<>(null, e);
        }
    }

    /** Returns what was made; throws what it failed with. */
    @Nullable
    T get() {
        if (failure != null) {
            throw failure;
        }
        return made;
    }
}
