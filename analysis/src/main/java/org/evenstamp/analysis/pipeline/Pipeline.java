package org.evenstamp.analysis.pipeline;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.jspecify.annotations.Nullable;

/** Analyses that fit together, in an order in which they can run. Immutable. */
public final class Pipeline {
    private final List<FoundAnalysis> analyses;
    private final List<FoundAnalysis> ordered;

    /**
     * Puts analyses together.
     *
     * @param analyses in the order in which their results are to be listed
     * @throws InputException when two have the same id, give the same field or declare a shared parameter differently, or
     *     when some wait for each other's fields
     */
    public Pipeline(List<FoundAnalysis> analyses) {
        Problems problems = new Problems();
        Compatibility.check(analyses, problems);
        problems.throwIfAny();
        this.analyses = List.copyOf(analyses);
        this.ordered = Compatibility.order(this.analyses, problems);
    }

    /** Returns the analyses on the class path: those that evenstamp ships, and any that a program brings along. */
    public static Pipeline standard() {
        return new Pipeline(AnalysisFinder.find(List.of()));
    }

    /** Returns the analyses in the order given. */
    public List<FoundAnalysis> analyses() {
        return analyses;
    }

    /**
     * Decides what can run and makes the analyses, without running any.
     *
     * @param tileFields the fields that will be there from the start
     * @param parameters what the job gives each analysis
     * @throws InputException with the problems of every analysis whose parameters contradict each other
     * @throws AnalysisFailure when an analysis cannot be made for another reason
     */
    public Plan plan(Collection<FieldName> tileFields, Function<AnalysisDescription, GivenParameters> parameters) {
        Set<String> available = new HashSet<>();
        tileFields.forEach(name -> available.add(name.id()));
        Map<String, FoundAnalysis> givers = Compatibility.givers(analyses);
        List<Plan.Step> steps = new ArrayList<>();
        List<FoundAnalysis> running = new ArrayList<>();
        List<Skipped> skipped = new ArrayList<>();
        Problems problems = new Problems();
        for (FoundAnalysis analysis : ordered) {
            List<Skipped.MissingField> missing = new ArrayList<>();
            for (FieldName need : analysis.description().needs()) {
                if (!available.contains(need.id())) {
                    FoundAnalysis giver = givers.get(need.id());
                    missing.add(new Skipped.MissingField(need.id(), giver == null ? null : giver.id()));
                }
            }
            GivenParameters given = parameters.apply(analysis.description());
            if (given instanceof GivenParameters.Complete complete && missing.isEmpty()) {
                try {
                    steps.add(new Plan.Step(analysis, make(analysis, complete)));
                } catch (InputException e) {
                    problems.add(e);
                }
                running.add(analysis);
                analysis.description().gives().forEach(name -> available.add(name.id()));
            } else {
                List<String> lacking = given instanceof GivenParameters.Lacking l ? l.ids() : List.of();
                skipped.add(new Skipped(analysis, lacking, missing));
            }
        }
        problems.throwIfAny();
        running.sort(Comparator.comparing(analyses::indexOf));
        skipped.sort(Comparator.comparing(skip -> analyses.indexOf(skip.analysis())));
        return new Plan(tileFields, running, steps, skipped);
    }

    private static Analysis make(FoundAnalysis analysis, GivenParameters.Complete given) {
        @Nullable Analysis made;
        try {
            made = analysis.provider().create(given.parameters());
        } catch (InputException e) {
            throw e;
        } catch (Throwable e) { // a plug-in may throw anything, checked exceptions included
            throw new AnalysisFailure(analysis, e);
        }
        if (made == null) { // a plug-in need not have been compiled with our null checks
            throw new AnalysisFailure(analysis, "made nothing");
        }
        return made;
    }
}
