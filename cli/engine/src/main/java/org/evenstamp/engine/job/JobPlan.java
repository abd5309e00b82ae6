package org.evenstamp.engine.job;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.analysis.pipeline.GivenParameters;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/** Decides which analyses a job's values are enough for. Pure functions. */
final class JobPlan {
    private JobPlan() {}

    /** Stands for an analysis that is planned but never made: its values may be wrong. */
    private record Unmade(AnalysisDescription description) implements AnalysisProvider {
        @Override
        public Analysis create(Parameters parameters) {
            return context -> {
                throw new IllegalStateException("never made");
            };
        }
    }

    /** Finds limits on fields that nothing will compute; they go to the problems. */
    static void checkLimitsAreReached(Pipeline pipeline, JobValues values, Resolution resolved, JobProblems problems) {
        Plan plan = new Pipeline(pipeline.analyses().stream()
                        .map(found ->
                                new FoundAnalysis(new Unmade(found.description()), found.description(), found.origin()))
                        .toList())
                .plan(TileFields.all(), analysis -> given(analysis, values, resolved));
        for (JobValues.PlacedLimit placed : values.limits()) {
            String fieldId = placed.limit().fieldId();
            for (Skipped skipped : plan.skipped()) {
                if (skipped.analysis().description().gives().stream()
                        .anyMatch(field -> field.id().equals(fieldId))) {
                    problems.add(
                            placed.mark(),
                            "job.limit-unreached",
                            "the limit on " + fieldId + " needs the analysis "
                                    + skipped.analysis().id() + ", which cannot run: " + skipped.reason(),
                            "set what it needs, or drop the limit");
                }
            }
        }
    }

    /** Returns the plan that runs nothing on a tile map. */
    static Plan empty() {
        return new Pipeline(List.of()).plan(TileFields.all(), analysis -> new GivenParameters.Lacking(List.of()));
    }

    /**
     * Makes the analyses.
     *
     * @param fields the fields of the tile map that will be there
     */
    static Plan of(Pipeline pipeline, List<FieldName> fields, JobValues values, Resolution resolved) {
        List<FieldName> there = new ArrayList<>(fields);
        if (resolved.filmMap() != null) {
            there.add(TileFields.FILM_COATED);
        }
        return pipeline.plan(there, analysis -> given(analysis, values, resolved));
    }

    private static GivenParameters given(AnalysisDescription analysis, JobValues values, Resolution resolved) {
        List<String> lacking = analysis.parameters().stream()
                .filter(parameter -> parameter.required()
                        && !values.sets(parameter.id())
                        && !resolved.numbers().containsKey(parameter.id()))
                .map(Parameter::id)
                .toList();
        if (!lacking.isEmpty()) {
            return new GivenParameters.Lacking(lacking);
        }
        Parameters.Builder builder = Parameters.builder();
        for (Parameter parameter : analysis.parameters()) {
            String id = parameter.id();
            Double number = resolved.numbers().get(id);
            String word = resolved.words().get(id);
            var rows = resolved.tables().get(id);
            if (number != null) {
                builder.quantity(id, number);
            } else if (word != null) {
                builder.choice(id, word);
            } else if (rows != null) {
                builder.table(id, rows);
            }
        }
        return new GivenParameters.Complete(
                builder.defaults(analysis.parameters()).build());
    }
}
