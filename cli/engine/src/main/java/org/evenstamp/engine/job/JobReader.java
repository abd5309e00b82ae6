package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;

/** Doors to {@link Job} by their former names. */
public final class JobReader {
    private JobReader() {}

    /** As {@link Job#read}. */
    public static Job read(Path file, Pipeline pipeline) {
        return Job.read(file, pipeline);
    }

    /** As {@link JobText#namedFiles}. */
    public static List<Path> named(Path file) {
        return JobText.read(file).namedFiles();
    }

    /** As {@link Job#with}. */
    public static Job read(Path file, Pipeline pipeline, Map<String, Double> instead) {
        Job job = Job.read(file, pipeline);
        for (var value : instead.entrySet()) {
            job = job.with(value.getKey(), value.getValue());
        }
        return job;
    }

    /** What a job says of layout, stamp and film, whatever its process. */
    public record Base(Job job, MaterialLibrary library, Optional<Material> film, double filmThickness) {}

    /** Reads a job for its layout, stamp and film. */
    public static Base base(Path file, Pipeline pipeline) {
        Job job = tolerant(file, pipeline).only(java.util.Set.of());
        double thickness = job.settings()
                .find(CommonParameters.FILM_THICKNESS.id())
                .orElseThrow(() -> new InputException(
                        "job.missing-key",
                        file.toString(),
                        "the job does not set " + CommonParameters.FILM_THICKNESS.id(),
                        ""));
        return new Base(job, job.library(), job.filmMaterial(), thickness);
    }

    /** As {@link Job#withRecipe}. */
    public static Job variation(Path file, Pipeline pipeline, Map<String, String> values) {
        return tolerant(file, pipeline).withRecipe(values);
    }

    private static Job tolerant(Path file, Pipeline pipeline) {
        return Job.of(JobText.read(file), Job.Setting.of(JobVocabulary.of(pipeline), true, pipeline, TileFields.all()));
    }

    /** As {@link JobText#ofOptions}. */
    public static Job ofOptions(Path layout, Map<String, String> options) {
        return Job.of(JobText.ofOptions(layout, options), new Pipeline(List.of()));
    }
}
