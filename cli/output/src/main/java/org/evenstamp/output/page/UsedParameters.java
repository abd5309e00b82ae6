package org.evenstamp.output.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.JobNode;
import org.evenstamp.output.page.PageContent.UsedParameter;
import org.evenstamp.output.text.ShortDecimal;
import org.evenstamp.shared.spi.Parameter;
import org.jspecify.annotations.Nullable;

/** Lists the parameters of the analyses of a job with the values they run with. */
final class UsedParameters {
    private UsedParameters() {}

    /** Returns them in the order in which the analyses declare them, each once. */
    static List<UsedParameter> of(Job job) {
        Map<String, Parameter> parameters = new LinkedHashMap<>();
        Map<String, List<String>> readers = new LinkedHashMap<>();
        for (FoundAnalysis found : job.plan().running()) {
            for (Parameter parameter : found.description().parameters()) {
                parameters.putIfAbsent(parameter.id(), parameter);
                readers.computeIfAbsent(parameter.id(), id -> new ArrayList<>()).add(found.id());
            }
        }
        List<UsedParameter> used = new ArrayList<>();
        parameters.forEach((id, parameter) -> {
            JobNode given = given(job.content(), id);
            Job.Coating film = id.equals(CommonParameters.FILM_THICKNESS.id()) ? job.film() : null;
            used.add(new UsedParameter(
                    id,
                    film != null
                            ? "mean of " + film.map().asWritten()
                            : given == null ? standard(parameter) : text(given),
                    film != null || given != null,
                    readers.getOrDefault(id, List.of()),
                    parameter.meaning()));
        });
        return used;
    }

    private static @Nullable JobNode given(JobNode.Mapping content, String id) {
        int dot = id.indexOf('.');
        JobNode.Entry section = content.entries().get(id.substring(0, dot));
        if (section == null || !(section.value() instanceof JobNode.Mapping keys)) {
            return null;
        }
        JobNode.Entry entry = keys.entries().get(id.substring(dot + 1));
        return entry == null ? null : entry.value();
    }

    private static String standard(Parameter parameter) {
        if (parameter instanceof Parameter.Quantity quantity) {
            return quantity.standard().isPresent()
                    ? ShortDecimal.of(quantity.standard().getAsDouble()) + " "
                            + quantity.unit().symbol()
                    : "";
        }
        return parameter instanceof Parameter.Choice choice ? choice.options().get(0) : "";
    }

    private static String text(JobNode node) {
        if (node instanceof JobNode.Scalar scalar) {
            return scalar.text();
        }
        if (node instanceof JobNode.Sequence list) {
            return list.items().stream().map(UsedParameters::text).collect(Collectors.joining("; "));
        }
        return ((JobNode.Mapping) node)
                .entries().entrySet().stream()
                        .map(entry ->
                                entry.getKey() + " " + text(entry.getValue().value()))
                        .collect(Collectors.joining(", "));
    }
}
