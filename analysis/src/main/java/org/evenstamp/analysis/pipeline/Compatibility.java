package org.evenstamp.analysis.pipeline;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.Parameter;

/** Whether analyses can live together in one run, whatever the job. */
final class Compatibility {
    private Compatibility() {}

    /** Adds a problem for every id, parameter or field that two analyses do not agree about, and for a cycle. */
    static void check(List<FoundAnalysis> analyses, Problems problems) {
        int before = problems.all().size();
        checkIds(analyses, problems);
        checkParameters(analyses, problems);
        checkFields(analyses, problems);
        if (problems.all().size() == before) {
            order(analyses, problems);
        }
    }

    private static void checkIds(List<FoundAnalysis> analyses, Problems problems) {
        Map<String, FoundAnalysis> byId = new HashMap<>();
        for (FoundAnalysis analysis : analyses) {
            FoundAnalysis other = byId.putIfAbsent(analysis.id(), analysis);
            if (other != null) {
                conflict(
                        "plugin.same-id",
                        "two analyses have the id " + analysis.id() + ": " + other.identity() + " and "
                                + analysis.identity(),
                        problems);
            }
        }
    }

    private static void checkParameters(List<FoundAnalysis> analyses, Problems problems) {
        Map<String, Parameter> declared = new HashMap<>();
        Map<String, FoundAnalysis> declarer = new HashMap<>();
        for (FoundAnalysis analysis : analyses) {
            for (Parameter parameter : analysis.description().parameters()) {
                Parameter other = declared.putIfAbsent(parameter.id(), parameter);
                FoundAnalysis first = declarer.computeIfAbsent(parameter.id(), id -> analysis);
                if (other != null && !alike(other, parameter)) {
                    conflict(
                            "plugin.parameter",
                            "the parameter " + parameter.id() + " is declared differently by " + first.identity()
                                    + " and " + analysis.identity(),
                            problems);
                }
            }
        }
    }

    /** Whether one value from the job can serve both; what it means and whether it is required may differ. */
    private static boolean alike(Parameter a, Parameter b) {
        if (a instanceof Parameter.Quantity p && b instanceof Parameter.Quantity q) {
            return p.unit().equals(q.unit())
                    && p.standard().equals(q.standard())
                    && p.least() == q.least()
                    && p.most() == q.most();
        }
        if (a instanceof Parameter.Choice p && b instanceof Parameter.Choice q) {
            return p.options().equals(q.options());
        }
        if (a instanceof Parameter.Table p && b instanceof Parameter.Table q) {
            if (p.columns().size() != q.columns().size()) {
                return false;
            }
            for (int i = 0; i < p.columns().size(); i++) {
                Parameter.Quantity x = p.columns().get(i);
                Parameter.Quantity y = q.columns().get(i);
                if (!x.id().equals(y.id()) || x.required() != y.required() || !alike(x, y)) {
                    return false;
                }
            }
            return true;
        }
        return false;
    }

    private static void checkFields(List<FoundAnalysis> analyses, Problems problems) {
        Map<String, String> giver = new HashMap<>();
        Map<String, FieldName> names = new HashMap<>();
        for (FieldName name : TileFields.all()) {
            giver.put(name.id(), "the tile map");
            names.put(name.id(), name);
        }
        giver.put(TileFields.FILM_COATED.id(), "the film map");
        names.put(TileFields.FILM_COATED.id(), TileFields.FILM_COATED);
        giver.put(TileFields.LAMP_IRRADIANCE.id(), "the map of the lamp");
        names.put(TileFields.LAMP_IRRADIANCE.id(), TileFields.LAMP_IRRADIANCE);
        for (FoundAnalysis analysis : analyses) {
            for (FieldName name : analysis.description().gives()) {
                String other = giver.putIfAbsent(name.id(), analysis.identity());
                names.putIfAbsent(name.id(), name);
                if (other != null) {
                    conflict(
                            "plugin.same-field",
                            "the field " + name.id() + " is given by " + other + " and by " + analysis.identity(),
                            problems);
                }
            }
        }
        for (FoundAnalysis analysis : analyses) {
            AnalysisDescription description = analysis.description();
            for (FieldName name : Stream.concat(description.needs().stream(), description.uses().stream())
                    .toList()) {
                FieldName given = names.get(name.id());
                if (given != null
                        && !given.unit().dimension().equals(name.unit().dimension())) {
                    conflict(
                            "plugin.field-unit",
                            "the field " + name.id() + " is read in \""
                                    + name.unit().symbol() + "\" by "
                                    + analysis.identity() + ", but "
                                    + giver.get(name.id()) + " gives it in \""
                                    + given.unit().symbol() + "\"",
                            problems);
                }
            }
        }
    }

    private static void conflict(String code, String message, Problems problems) {
        problems.add(code, "plug-ins", message, "mend one of the two or take its jar away");
    }

    /**
     * Returns the analyses so ordered that each comes after those whose fields it needs or uses; otherwise as given. Adds a
     * problem, and returns only those that can be ordered, when there is a cycle.
     */
    static List<FoundAnalysis> order(List<FoundAnalysis> analyses, Problems problems) {
        Map<String, FoundAnalysis> givers = givers(analyses);
        List<FoundAnalysis> ordered = new ArrayList<>();
        List<FoundAnalysis> left = new ArrayList<>(analyses);
        while (!left.isEmpty()) {
            FoundAnalysis next = null;
            for (FoundAnalysis candidate : left) {
                if (sources(candidate, givers).stream().noneMatch(left::contains)) {
                    next = candidate;
                    break;
                }
            }
            if (next == null) {
                problems.add(
                        "plugin.cycle",
                        "plug-ins",
                        "analyses wait for each other's fields: " + cycle(left, givers),
                        "one of them must do without a field of the other");
                break;
            }
            ordered.add(next);
            left.remove(next);
        }
        return ordered;
    }

    /** Returns who gives each field, by field id. */
    static Map<String, FoundAnalysis> givers(List<FoundAnalysis> analyses) {
        Map<String, FoundAnalysis> givers = new HashMap<>();
        for (FoundAnalysis analysis : analyses) {
            analysis.description().gives().forEach(name -> givers.put(name.id(), analysis));
        }
        return givers;
    }

    /** Returns the analyses whose fields this one reads, without repetition, in the order it declares them. */
    static List<FoundAnalysis> sources(FoundAnalysis analysis, Map<String, FoundAnalysis> givers) {
        AnalysisDescription description = analysis.description();
        return Stream.concat(description.needs().stream(), description.uses().stream())
                .flatMap(name -> Stream.ofNullable(givers.get(name.id())))
                .distinct()
                .toList();
    }

    /** Every analysis in {@code left} reads from another one in it, so walking upstream must come round. */
    private static String cycle(List<FoundAnalysis> left, Map<String, FoundAnalysis> givers) {
        List<FoundAnalysis> walk = new ArrayList<>();
        Set<FoundAnalysis> seen = new HashSet<>();
        FoundAnalysis at = left.get(0);
        while (seen.add(at)) {
            walk.add(at);
            at = sources(at, givers).stream()
                    .filter(left::contains)
                    .findFirst()
                    .orElseThrow(() -> new IllegalStateException("an analysis without source is not in a cycle"));
        }
        StringBuilder text = new StringBuilder();
        for (FoundAnalysis analysis : walk.subList(walk.indexOf(at), walk.size())) {
            text.append(analysis.identity()).append(" reads from ");
        }
        return text.append(at.id()).toString();
    }
}
