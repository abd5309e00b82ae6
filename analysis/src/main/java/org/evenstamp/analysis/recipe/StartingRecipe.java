package org.evenstamp.analysis.recipe;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A first recipe to try by computation, in the words of a job.
 *
 * @param kind kind of process
 * @param values text by key of a job, in the order they are shown
 * @param reasons why it is so, one sentence each
 */
public record StartingRecipe(String kind, Map<String, String> values, List<String> reasons) {
    /** Copies. */
    public StartingRecipe {
        values = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(values));
        reasons = List.copyOf(reasons);
    }
}
