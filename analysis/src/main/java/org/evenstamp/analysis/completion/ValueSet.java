package org.evenstamp.analysis.completion;

import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Values of a job. Immutable.
 *
 * @param numbers numbers in SI by key
 * @param words chosen words by key
 * @param tables rows by key: numbers in SI by column
 * @param doubtful keys of which the job says something that could not be understood, or that would follow from such a key. What
 *     is missing or wrong because of them is no problem of its own.
 */
public record ValueSet(
        Map<String, Double> numbers,
        Map<String, String> words,
        Map<String, List<Map<String, Double>>> tables,
        Set<String> doubtful) {
    /** Copies what it is given. */
    public ValueSet {
        numbers = Map.copyOf(numbers);
        words = Map.copyOf(words);
        tables = Map.copyOf(tables);
        doubtful = Set.copyOf(doubtful);
    }
}
