package org.evenstamp.analysis.pipeline;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An analysis that does not run, with every reason.
 *
 * @param analysis the analysis
 * @param missingParameters ids of required parameters that the job lacks
 * @param missingFields fields it needs and nobody in this run gives
 */
public record Skipped(FoundAnalysis analysis, List<String> missingParameters, List<MissingField> missingFields) {
    /**
     * A needed field that is not there.
     *
     * @param fieldId id of the field
     * @param giver id of the analysis that would give it but is skipped itself; null when there is no such analysis
     */
    public record MissingField(String fieldId, @Nullable String giver) {}

    /** Copies the lists. */
    public Skipped {
        missingParameters = List.copyOf(missingParameters);
        missingFields = List.copyOf(missingFields);
    }

    /** Returns whether people are to be told: not of an analysis of a way of working that the job does not speak of. */
    public boolean isTold() {
        List<String> quiet = analysis.quietWithout();
        return missingParameters.stream().noneMatch(quiet::contains);
    }

    /** Returns the reasons as one sentence for a person, without the name of the analysis. */
    public String reason() {
        List<String> reasons = new ArrayList<>();
        if (!missingParameters.isEmpty()) {
            reasons.add("the job does not give " + String.join(", ", missingParameters));
        }
        for (MissingField field : missingFields) {
            reasons.add(
                    field.giver == null
                            ? "nobody gives the field " + field.fieldId
                            : "the field " + field.fieldId + " comes from " + field.giver + ", which is skipped");
        }
        return String.join("; ", reasons);
    }
}
