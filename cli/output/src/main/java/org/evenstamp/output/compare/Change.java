package org.evenstamp.output.compare;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.BiPredicate;
import org.jspecify.annotations.Nullable;

/**
 * Something that is in one run and not, or not the same, in the other.
 *
 * @param key what it is
 * @param a as it is in A; null when it came with B
 * @param b as it is in B; null when it went with A
 */
public record Change<T>(String key, @Nullable T a, @Nullable T b) {
    /** Returns {@code came}, {@code went} or {@code changed}. */
    public String word() {
        return a == null ? "came" : b == null ? "went" : "changed";
    }

    /** Returns it as it is in B, or as it was in A when it went. */
    public T latest() {
        return b != null ? b : Objects.requireNonNull(a);
    }

    /** Returns all changes from one map to another: those of A in its order, then what came. */
    static <T> List<Change<T>> between(Map<String, T> a, Map<String, T> b, BiPredicate<T, T> same) {
        Set<String> keys = new LinkedHashSet<>(a.keySet());
        keys.addAll(b.keySet());
        List<Change<T>> changes = new ArrayList<>();
        for (String key : keys) {
            T before = a.get(key);
            T after = b.get(key);
            if (before == null || after == null || !same.test(before, after)) {
                changes.add(new Change<>(key, before, after));
            }
        }
        return changes;
    }
}
