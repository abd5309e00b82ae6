package org.evenstamp.tool.command;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.job.NearestWord;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.OpenLayout;
import org.evenstamp.output.file.ContoursGeoJson;
import org.evenstamp.output.file.FeaturesGeoJson;
import org.evenstamp.output.file.ResultsDirectory;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.unit.Quantity;
import org.evenstamp.shared.unit.UnitException;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Options for results as drawings. */
final class DrawingOptions {
    private static final int MOST_LEVELS = 100;

    @Option(
            names = "--contours",
            paramLabel = "FIELD[=LEVELS]",
            description = {
                "Write what lies between levels of a field as polygons (contours/FIELD.geojson), at round levels or at those"
                        + " given, such as \"residual.final=90 nm,100 nm\". May be given several times."
            })
    List<String> contours = new ArrayList<>();

    @Option(
            names = "--features-geojson",
            description =
                    "Write every drawn feature again with its smallest and largest residual layer, fill time, stress"
                            + " and tear index as properties (features.geojson).")
    boolean features;

    @Spec(Spec.Target.MIXEE)
    CommandSpec spec = CommandSpec.create();

    /** Levels in SI by field, none for those to be chosen. */
    private final Map<String, double[]> levels = new LinkedHashMap<>();

    /**
     * Understands the options.
     *
     * @throws ParameterException when a job has no such field, or levels are none
     */
    void read(Job job) {
        Map<String, FieldName> fields = Stream.concat(
                        TileFields.all().stream(),
                        job.plan().running().stream().flatMap(one -> one.description().gives().stream()))
                .collect(Collectors.toMap(FieldName::id, field -> field, (one, other) -> one, LinkedHashMap::new));
        if (features && job.layout().table() != null) {
            throw wrong("a layout that is a table of tiles has no features to write");
        }
        for (String option : contours) {
            int sign = option.indexOf('=');
            String id = (sign < 0 ? option : option.substring(0, sign)).strip();
            FieldName field = fields.get(id);
            if (field == null) {
                throw wrong("this job has no field " + id
                        + NearestWord.of(id, List.copyOf(fields.keySet()))
                                .map(near -> "; did you mean " + near + "?")
                                .orElse(""));
            }
            levels.put(id, sign < 0 ? new double[0] : levels(option.substring(sign + 1), field));
        }
    }

    private double[] levels(String text, FieldName field) {
        String[] words = text.split(",");
        try {
            double[] levels = Stream.of(words)
                    .mapToDouble(word -> Quantity.parse(
                                    field.unit().symbol().equals("1") ? word.strip() + " 1" : word.strip())
                            .siAs(field.unit()))
                    .sorted()
                    .distinct()
                    .toArray();
            if (levels.length > MOST_LEVELS) {
                throw wrong(levels.length + " levels are more than the " + MOST_LEVELS + " that contours may have");
            }
            return levels;
        } catch (UnitException e) {
            throw wrong("levels of " + field.id() + ": " + e.getMessage() + "; such as " + field.id() + "=\"10 "
                    + field.unit().symbol() + ",20 " + field.unit().symbol() + "\"");
        }
    }

    private ParameterException wrong(String message) {
        return new ParameterException(spec.commandLine(), message);
    }

    /** Writes the files that were asked for. */
    void write(Job job, Results results, ResultsDirectory directory, Progress progress) {
        levels.forEach((id, at) -> {
            Field field = results.fields().find(id).orElse(null);
            if (field != null) {
                directory.add(
                        ContoursGeoJson.name(field), file -> ContoursGeoJson.write(file, results, field, at, progress));
            }
        });
        if (features) {
            OpenLayout layout = OpenLayout.open(job.layout());
            List<String> names = FeaturesGeoJson.names(layout);
            for (int i = 0; i < names.size(); i++) {
                int layer = i;
                directory.add(names.get(i), file -> FeaturesGeoJson.write(file, results, layout, layer, progress));
            }
        }
    }
}
