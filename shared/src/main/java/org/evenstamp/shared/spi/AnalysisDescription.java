package org.evenstamp.shared.spi;

import java.util.List;
import org.evenstamp.shared.field.FieldName;

/**
 * What an analysis declares about itself.
 *
 * @param id dotted lower-case words, unique among all analyses of a run
 * @param summary one sentence for a person
 * @param parameters its inputs from the job
 * @param needs fields it cannot run without
 * @param uses fields it reads if somebody gives them
 * @param gives fields it will deliver, each of them, always
 */
public record AnalysisDescription(
        String id,
        String summary,
        List<Parameter> parameters,
        List<FieldName> needs,
        List<FieldName> uses,
        List<FieldName> gives) {
    /** Copies the lists. */
    public AnalysisDescription {
        parameters = List.copyOf(parameters);
        needs = List.copyOf(needs);
        uses = List.copyOf(uses);
        gives = List.copyOf(gives);
    }
}
