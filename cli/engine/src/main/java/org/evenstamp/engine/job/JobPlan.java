package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.GivenParameters;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/** Decides which analyses a job's values are enough for. Pure functions. */
final class JobPlan {
    /** So many limits are named in one problem. */
    private static final int MOST_NAMED = 3;

    private JobPlan() {}

    /** Stands for an analysis that is planned but never made: its values may be wrong. */
    private record Untried(AnalysisDescription description) implements AnalysisProvider {
        @Override
        public Analysis create(Parameters parameters) {
            return context -> {
                throw new IllegalStateException("never made");
            };
        }
    }

    /** Returns the plan that runs nothing on a tile map. */
    static Plan empty() {
        return new Pipeline(List.of()).plan(TileFields.all(), analysis -> new GivenParameters.Lacking(List.of()));
    }

    /**
     * Makes the analyses; those that what is doubtful in the job goes into are planned only.
     *
     * @param fields the fields of the tile map that will be there
     * @throws InputException when their values contradict each other
     */
    static Plan of(Pipeline pipeline, List<FieldName> fields, Resolution resolved) {
        List<FieldName> there = new ArrayList<>(fields);
        if (resolved.filmMap() != null) {
            there.add(TileFields.FILM_COATED);
        }
        if (resolved.lampMap() != null) {
            there.add(TileFields.LAMP_IRRADIANCE);
        }
        Pipeline sure = resolved.values().doubtful().isEmpty()
                ? pipeline
                : untried(
                        pipeline,
                        analysis -> analysis.parameters().stream()
                                .anyMatch(parameter ->
                                        resolved.values().doubtful().contains(parameter.id())));
        return sure.plan(there, analysis -> given(analysis, resolved));
    }

    /** Returns a pipeline that makes some of its analyses in name only. */
    static Pipeline untried(Pipeline pipeline, Predicate<AnalysisDescription> which) {
        return new Pipeline(pipeline.analyses().stream()
                .map(found -> which.test(found.description()) ? found.madeBy(new Untried(found.description())) : found)
                .toList());
    }

    /**
     * Finds limits on fields that nothing will compute: a problem for the values that are missing, with all the limits that need
     * them.
     *
     * @param untried the analyses, in name only
     */
    static List<Problem> unreachedLimits(Pipeline untried, List<Limit> limits, Resolution resolved) {
        Map<Unreached, List<Cause>> byLimits = new LinkedHashMap<>();
        unreached(untried, limits, resolved)
                .forEach((cause, unreached) -> byLimits.computeIfAbsent(unreached, same -> new ArrayList<>())
                        .add(cause));
        return byLimits.entrySet().stream()
                .map(entry -> entry.getKey().problem(entry.getValue()))
                .toList();
    }

    private static Map<Cause, Unreached> unreached(Pipeline untried, List<Limit> limits, Resolution resolved) {
        Plan plan = untried.plan(TileFields.all(), analysis -> given(analysis, resolved));
        Map<String, Skipped> givers = new LinkedHashMap<>();
        for (Skipped skipped : plan.skipped()) {
            skipped.analysis().description().gives().forEach(field -> givers.put(field.id(), skipped));
            skipped.analysis().limitableFigures().forEach(figure -> givers.put(figure.id(), skipped));
        }
        Map<Cause, Unreached> causes = new LinkedHashMap<>();
        for (Limit limit : limits) {
            Skipped skipped = givers.get(limit.fieldId());
            if (skipped != null) {
                for (Lack lack : lacks(skipped, givers, new LinkedHashSet<>())) {
                    causes.computeIfAbsent(lack.cause(), cause -> new Unreached())
                            .add(limit, lack.analysis());
                }
            }
        }
        return causes;
    }

    /**
     * Finds keys that analyses need as the job stands and that it does not set, where something else keeps the analyses from
     * being made: a value that is doubtful, or one that a limit misses. They are made with stand-ins for such numbers, once for
     * all that the analysis knows and once for the required alone; only what both times is missed is told.
     *
     * @param untried the analyses, in name only
     */
    static List<Problem> unmetNeeds(
            Pipeline pipeline, Pipeline untried, List<Limit> limits, Resolution resolved, ProblemPlaces places) {
        Set<String> missed = new LinkedHashSet<>();
        unreached(untried, limits, resolved).values().forEach(unreached -> missed.addAll(unreached.analyses()));
        List<Problem> needs = new ArrayList<>();
        for (FoundAnalysis found : pipeline.analyses()) {
            AnalysisDescription analysis = found.description();
            Set<Parameter> open = analysis.parameters().stream()
                    .filter(parameter -> resolved.values().doubtful().contains(parameter.id()))
                    .collect(Collectors.toSet());
            boolean lacks = given(analysis, resolved) instanceof GivenParameters.Lacking;
            boolean numbers = open.stream().allMatch(Parameter.Quantity.class::isInstance);
            if (numbers && (lacks ? missed.contains(found.id()) : !open.isEmpty())) {
                Set<Problem> twice =
                        new LinkedHashSet<>(refusals(found, resolved, parameter -> open.contains(parameter)));
                twice.retainAll(refusals(found, resolved, parameter -> false));
                twice.stream()
                        .map(places::placed)
                        .filter(problem -> !problem.key().isEmpty() && resolved.lacks(problem.key()))
                        .forEach(needs::add);
            }
        }
        return needs;
    }

    /** Returns why an analysis cannot be made when its required numbers, and others that are chosen, get stand-ins. */
    private static List<Problem> refusals(
            FoundAnalysis found, Resolution resolved, Predicate<Parameter.Quantity> standsIn) {
        Parameters.Builder builder = values(found.description(), resolved);
        for (Parameter parameter : found.description().parameters()) {
            if (parameter instanceof Parameter.Quantity quantity
                    && resolved.number(quantity.id()) == null
                    && (quantity.required() || standsIn.test(quantity))) {
                double middle = quantity.least() > 0
                        ? Math.sqrt(quantity.least()) * Math.sqrt(quantity.most())
                        : (quantity.least() + quantity.most()) / 2;
                builder.quantity(
                        quantity.id(), quantity.unit().toSi(quantity.standard().orElse(middle)));
            }
        }
        try {
            found.provider()
                    .create(builder.defaults(found.description().parameters()).build());
            return List.of();
        } catch (InputException e) {
            return e.problems();
        } catch (RuntimeException e) {
            return List.of(); // the stand-ins made it fail, or it will fail again when it is made in earnest
        }
    }

    /** A key that the job does not set, or a field that nobody gives. */
    private record Cause(String key, String field) {}

    /** What keeps an analysis from running. */
    private record Lack(Cause cause, String analysis) {}

    private static Set<Lack> lacks(Skipped skipped, Map<String, Skipped> givers, Set<Lack> found) {
        skipped.missingParameters()
                .forEach(key -> found.add(
                        new Lack(new Cause(key, ""), skipped.analysis().id())));
        for (Skipped.MissingField field : skipped.missingFields()) {
            Skipped giver = givers.get(field.fieldId());
            if (giver == null) {
                found.add(new Lack(
                        new Cause("", field.fieldId()), skipped.analysis().id()));
            } else {
                lacks(giver, givers, found);
            }
        }
        return found;
    }

    /** Limits that cannot be checked, by field, and the analyses that would run otherwise. */
    private record Unreached(Map<String, Limit> limits, Set<String> analyses) {
        Unreached() {
            this(new LinkedHashMap<>(), new LinkedHashSet<>());
        }

        void add(Limit limit, String analysis) {
            limits.putIfAbsent(limit.fieldId(), limit);
            analyses.add(analysis);
        }

        Problem problem(List<Cause> causes) {
            boolean one = limits.size() == 1;
            String names = limits.keySet().stream().limit(MOST_NAMED).collect(Collectors.joining(", "));
            int more = limits.size() - MOST_NAMED;
            List<String> keys = causes.stream()
                    .map(Cause::key)
                    .filter(key -> !key.isEmpty())
                    .toList();
            List<String> reasons = new ArrayList<>();
            if (!keys.isEmpty()) {
                reasons.add("the job does not give " + String.join(", ", keys));
            }
            causes.stream()
                    .filter(cause -> cause.key().isEmpty())
                    .forEach(cause -> reasons.add("nobody gives the field " + cause.field()));
            return new Problem(
                    "job.limit-unreached",
                    limits.values().iterator().next().source(),
                    keys.isEmpty() ? "" : keys.get(0),
                    (one ? "the limit on " : "the limits on ") + names + (more > 0 ? " and " + more + " more" : "")
                            + (one ? " needs " : " need ")
                            + (analyses.size() == 1 ? "the analysis " : "the analyses ")
                            + String.join(", ", analyses) + ", which cannot run: " + String.join("; ", reasons),
                    "set what it needs, or drop the limit" + (one ? "" : "s"));
        }
    }

    private static GivenParameters given(AnalysisDescription analysis, Resolution resolved) {
        List<String> lacking = analysis.parameters().stream()
                .filter(parameter -> parameter.required()
                        && !resolved.values().doubtful().contains(parameter.id())
                        && !resolved.values().numbers().containsKey(parameter.id()))
                .map(Parameter::id)
                .toList();
        if (!lacking.isEmpty()) {
            return new GivenParameters.Lacking(lacking);
        }
        return new GivenParameters.Complete(
                values(analysis, resolved).defaults(analysis.parameters()).build());
    }

    private static Parameters.Builder values(AnalysisDescription analysis, Resolution resolved) {
        Parameters.Builder builder = Parameters.builder();
        for (Parameter parameter : analysis.parameters()) {
            String id = parameter.id();
            Double number = resolved.values().numbers().get(id);
            String word = resolved.values().words().get(id);
            var rows = resolved.values().tables().get(id);
            if (number != null) {
                builder.quantity(id, number);
            } else if (word != null) {
                builder.choice(id, word);
            } else if (rows != null) {
                builder.table(id, rows);
            }
        }
        return builder;
    }
}
