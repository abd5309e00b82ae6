package org.evenstamp.engine.job;

import java.util.List;
import java.util.Map;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/**
 * The steps from a text to a job, and what each came to. Immutable.
 *
 * @param text the text
 * @param setting what it is read against
 * @param files what stands in the files that it names
 * @param values the values it gives
 * @param places where these stand
 * @param resolved the values completed
 * @param layout the layout it names
 * @param dummyProperties what dummies carry, by name
 * @param film the film where it differs from place to place; null where it does not
 * @param plan the analyses that will run
 * @param settings every value, with the defaults of what is left out
 */
record JobSteps(
        JobText text,
        Setting setting,
        JobFiles files,
        JobValues values,
        ProblemPlaces places,
        Resolution resolved,
        LayoutChoice layout,
        Map<String, Object> dummyProperties,
        Job.@Nullable Coating film,
        Plan plan,
        Parameters settings) {

    /**
     * What a text is read against.
     *
     * @param vocabulary what it may say
     * @param pipeline the analyses to plan
     * @param untried the same, to be planned without making them
     * @param fields the fields of the tile map that these can count on
     */
    record Setting(JobVocabulary vocabulary, Pipeline pipeline, Pipeline untried, List<FieldName> fields) {
        static Setting of(JobVocabulary vocabulary, Pipeline pipeline, List<FieldName> fields) {
            return new Setting(vocabulary, pipeline, JobPlan.untried(pipeline, analysis -> true), fields);
        }

        /** Returns this for a map that has these fields alone. */
        Setting with(List<FieldName> some) {
            return new Setting(vocabulary, pipeline, untried, some);
        }
    }

    /**
     * Takes the steps.
     *
     * @throws InputException with every problem that any of them meets
     */
    static JobSteps take(JobText text, Setting general, JobFiles files) {
        JobProblems problems = new JobProblems(text);
        problems.addAll(text.problems());
        JobValues values = ValuesReader.read(text, general.vocabulary(), problems);
        ProblemPlaces places = new ProblemPlaces(text, general.vocabulary(), values);
        LayoutReader layouts = new LayoutReader(text, values, files, problems);
        Resolution resolved = Resolution.of(text, values, files, places, problems);
        LayoutChoice layout = layouts.layout(resolved);
        Setting setting =
                layout.table() == null ? general : general.with(layout.table().names());
        Map<String, Object> dummyProperties = DummyProperties.read(values.node(DummyProperties.KEY.id()), problems);
        problems.addAll(JobPlan.unreachedLimits(setting.untried(), values.meantLimits(), resolved));
        Plan plan = plan(setting, resolved, places, problems);
        if (!problems.all().isEmpty()) {
            problems.addAll(
                    JobPlan.unmetNeeds(setting.pipeline(), setting.untried(), values.meantLimits(), resolved, places));
        }
        problems.throwIfAny();
        return new JobSteps(
                text,
                setting,
                files,
                values,
                places,
                resolved,
                layout,
                dummyProperties,
                coating(setting, resolved, places),
                plan,
                settings(setting.vocabulary(), resolved));
    }

    private static Plan plan(Setting setting, Resolution resolved, ProblemPlaces places, JobProblems problems) {
        try {
            return JobPlan.of(setting.pipeline(), setting.fields(), resolved);
        } catch (InputException e) {
            problems.addAll(places.placed(e).problems());
            return JobPlan.empty();
        }
    }

    private static Job.@Nullable Coating coating(Setting setting, Resolution resolved, ProblemPlaces places) {
        FilmMap map = resolved.filmMap();
        return map == null
                ? null
                : new Job.Coating(map, mean -> {
                    try {
                        return JobPlan.of(setting.pipeline(), setting.fields(), resolved.withThickness(mean));
                    } catch (InputException e) {
                        throw places.placed(e);
                    }
                });
    }

    private static Parameters settings(JobVocabulary vocabulary, Resolution resolved) {
        Parameters.Builder builder = Parameters.builder();
        resolved.values().numbers().forEach(builder::quantity);
        resolved.values().words().forEach(builder::choice);
        resolved.values().tables().forEach(builder::table);
        return builder.defaults(vocabulary.keys().stream()
                        .filter(JobKey.Value.class::isInstance)
                        .map(key -> ((JobKey.Value) key).parameter())
                        .toList())
                .build();
    }
}
