package org.evenstamp.engine.run;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * Remembers what stages of work made, by what they made it from. Of every stage only the latest few are kept. Safe for several
 * threads, which may then do the same work twice.
 */
public final class StageMemory {
    private final int most;
    private final Map<String, Map<Object, Object>> made = new HashMap<>();
    private final List<String> computed = new ArrayList<>();
    private final List<String> recalled = new ArrayList<>();

    /**
     * Creates one that remembers nothing yet.
     *
     * @param most how much it keeps of every stage; 0 to keep nothing
     */
    public StageMemory(int most) {
        this.most = most;
    }

    /** Returns whether anything is kept. */
    boolean remembers() {
        return most > 0;
    }

    /**
     * Returns what a stage makes.
     *
     * @param stage its name for a person
     * @param from everything that goes in, compared by {@code equals}; asked for again after the work, and when it has
     *     changed meanwhile, what was made is not kept
     * @param work makes it
     */
    public <T> T of(String stage, Supplier<?> from, Supplier<T> work) {
        if (most == 0) {
            return work.get();
        }
        Object key = from.get();
        T known = find(stage, key);
        if (known != null) {
            return known;
        }
        T result = work.get();
        boolean steady = from.get().equals(key);
        synchronized (this) {
            computed.add(stage);
            Map<Object, Object> kept = made.computeIfAbsent(stage, name -> new LinkedHashMap<>());
            if (steady) {
                kept.put(key, result);
            }
            if (kept.size() > most) {
                kept.remove(kept.keySet().iterator().next());
            }
        }
        return result;
    }

    @SuppressWarnings({"unchecked", "TypeParameterUnusedInFormals"}) // what a stage made is of the type it makes
    private synchronized <T> @Nullable T find(String stage, Object key) {
        Map<Object, Object> kept = made.get(stage);
        Object known = kept == null ? null : kept.remove(key);
        if (kept != null && known != null) {
            kept.put(key, known); // the latest now
            recalled.add(stage);
        }
        return (T) known;
    }

    /**
     * What was done.
     *
     * @param computed stages that had to work, in the order in which they ended
     * @param recalled stages that were remembered
     */
    public record Account(List<String> computed, List<String> recalled) {
        /** Copies the lists. */
        public Account {
            computed = List.copyOf(computed);
            recalled = List.copyOf(recalled);
        }
    }

    /** Returns what was done since the account before. */
    public synchronized Account account() {
        Account account = new Account(computed, recalled);
        computed.clear();
        recalled.clear();
        return account;
    }
}
