package org.evenstamp.shared.spi;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.evenstamp.shared.field.FieldName;

/**
 * What an analysis declares about itself.
 *
 * @param id dotted lower-case words, unique among all analyses of a run
 * @param summary one sentence for a person
 * @param parameters its inputs from the job, each named {@code section.key}
 * @param needs fields it cannot run without
 * @param uses fields it reads if somebody gives them
 * @param gives fields it will deliver, each of them, always
 * @param indices those of the given fields that are demand over capacity
 * @param remedies what would help where a given field breaks a limit of the job; indices bring their own
 */
public record AnalysisDescription(
        String id,
        String summary,
        List<Parameter> parameters,
        List<FieldName> needs,
        List<FieldName> uses,
        List<FieldName> gives,
        List<Index> indices,
        List<Remedy> remedies) {
    /**
     * Copies the lists.
     *
     * @throws IllegalArgumentException when an id is malformed, a text is empty, a parameter is declared twice, a field
     *     is named twice in {@code needs}, {@code uses} and {@code gives} together, or an index, a term or a remedy is of a
     *     field that is not given
     */
    public AnalysisDescription {
        parameters = List.copyOf(parameters);
        needs = List.copyOf(needs);
        uses = List.copyOf(uses);
        gives = List.copyOf(gives);
        indices = List.copyOf(indices);
        remedies = List.copyOf(remedies);
        require(id.matches("[a-z][a-z0-9]*(\\.[a-z0-9]+)*"), id, "an id is dotted lower-case words");
        require(!summary.isBlank(), id, "the summary is empty");
        Set<String> seen = new HashSet<>();
        for (Parameter parameter : parameters) {
            require(
                    parameter.id().matches("[a-z][a-z0-9-]*(\\.[a-z][a-z0-9-]*)+"),
                    id,
                    "the parameter \"" + parameter.id() + "\" is not named section.key in lower case");
            require(!parameter.meaning().isBlank(), id, "the parameter " + parameter.id() + " has no meaning");
            require(seen.add(parameter.id()), id, "the parameter " + parameter.id() + " is declared twice");
        }
        seen.clear();
        for (List<FieldName> names : List.of(needs, uses, gives)) {
            for (FieldName name : names) {
                require(seen.add(name.id()), id, "the field " + name.id() + " is declared twice");
            }
        }
        List<FieldName> judged = new ArrayList<>();
        indices.forEach(index -> {
            judged.add(index.field());
            index.terms().forEach(term -> judged.add(term.field()));
        });
        remedies.forEach(remedy -> judged.add(remedy.field()));
        for (FieldName name : judged) {
            require(gives.contains(name), id, "the field " + name.id() + " is judged but not given");
        }
    }

    /** Describes an analysis without indices. */
    public AnalysisDescription(
            String id,
            String summary,
            List<Parameter> parameters,
            List<FieldName> needs,
            List<FieldName> uses,
            List<FieldName> gives) {
        this(id, summary, parameters, needs, uses, gives, List.of(), List.of());
    }

    private static void require(boolean holds, String id, String message) {
        if (!holds) {
            throw new IllegalArgumentException("analysis \"" + id + "\": " + message);
        }
    }
}
