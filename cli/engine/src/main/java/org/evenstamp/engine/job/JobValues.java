package org.evenstamp.engine.job;

import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.finding.Limit;
import org.jspecify.annotations.Nullable;

/**
 * What a job sets, read by what its keys may be: each value in SI with the place where it stands. Immutable.
 *
 * @param settings by key of the vocabulary
 * @param limits bounds on fields
 * @param unread bounds that could not be understood: only field, measure and place of them mean anything
 * @param chances by what is limited, a field or {@code field@region}, the largest chance of breaking a bound that a sweep may find
 * @param doubtful keys of which the job says something that could not be understood, and that has been told: what else follows
 *     from that is no problem of its own
 */
record JobValues(
        Map<String, Setting> settings,
        List<Limit> limits,
        List<Limit> unread,
        Map<String, Double> chances,
        Set<String> doubtful) {
    JobValues {
        settings = Collections.unmodifiableMap(new LinkedHashMap<>(settings));
        limits = List.copyOf(limits);
        unread = List.copyOf(unread);
        chances = Map.copyOf(chances);
        doubtful = Set.copyOf(doubtful);
    }

    /**
     * One key that is set.
     *
     * @param node what stands there
     * @param value the value; null when what stands there is none
     */
    record Setting(JobNode node, @Nullable Value value) {}

    /** A value. */
    sealed interface Value {
        /** A number in SI. */
        record Amount(double si) implements Value {}

        /** A word out of several, or free text. */
        record Word(String word) implements Value {}

        /** Rows of numbers in SI by column. */
        record Rows(List<Map<String, Double>> rows) implements Value {}

        /** A rectangle. */
        record Rectangle(MapOptions.Outline outline) implements Value {}

        /** A group or a list with a form of its own. */
        record Nested(JobNode node) implements Value {}
    }

    /** Returns every limit that the job means to set, be it rightly or wrongly written. */
    List<Limit> meantLimits() {
        return Stream.concat(limits.stream(), unread.stream()).toList();
    }

    /** Whether the job sets a key, be it rightly or wrongly. */
    boolean sets(String id) {
        return settings.containsKey(id);
    }

    /** Returns where a key's value stands; null when it is not set. */
    JobNode.@Nullable Mark mark(String id) {
        Setting setting = settings.get(id);
        return setting == null ? null : setting.node().mark();
    }

    /** Returns what stands behind a key; null when it is not set. */
    @Nullable
    JobNode node(String id) {
        Setting setting = settings.get(id);
        return setting == null ? null : setting.node();
    }

    @Nullable
    Double number(String id) {
        return value(id) instanceof Value.Amount number ? number.si() : null;
    }

    @Nullable
    String word(String id) {
        return value(id) instanceof Value.Word word ? word.word() : null;
    }

    MapOptions.@Nullable Outline rectangle(String id) {
        return value(id) instanceof Value.Rectangle rectangle ? rectangle.outline() : null;
    }

    private @Nullable Value value(String id) {
        Setting setting = settings.get(id);
        return setting == null ? null : setting.value();
    }

    /** Returns all numbers, SI; the map is the caller's own. */
    Map<String, Double> numbers() {
        Map<String, Double> numbers = new HashMap<>();
        settings.forEach((id, setting) -> {
            if (setting.value() instanceof Value.Amount number) {
                numbers.put(id, number.si());
            }
        });
        return numbers;
    }

    /** Returns all words; the map is the caller's own. */
    Map<String, String> words() {
        Map<String, String> words = new HashMap<>();
        settings.forEach((id, setting) -> {
            if (setting.value() instanceof Value.Word word) {
                words.put(id, word.word());
            }
        });
        return words;
    }

    /** Returns all tables; the map is the caller's own. */
    Map<String, List<Map<String, Double>>> tables() {
        Map<String, List<Map<String, Double>>> tables = new HashMap<>();
        settings.forEach((id, setting) -> {
            if (setting.value() instanceof Value.Rows rows) {
                tables.put(id, rows.rows());
            }
        });
        return tables;
    }
}
