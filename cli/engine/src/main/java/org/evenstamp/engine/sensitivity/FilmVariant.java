package org.evenstamp.engine.sensitivity;

import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.film.FilmSensitivity;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Parameters;

/** What the film solve of a job is made of, for the way back. */
public final class FilmVariant {
    private FilmVariant() {}

    /** Returns a job on measured tiles. */
    public static FilmSensitivity.Variant of(Job job, FieldSet fields) {
        return new FilmSensitivity.Variant(settings(job, fields), fields);
    }

    /** Returns the values of a job, with the mean thickness of its film where that has a map. */
    private static Parameters settings(Job job, FieldSet fields) {
        return fields.find(TileFields.FILM_COATED.id())
                .map(film -> job.settings().with(CommonParameters.FILM_THICKNESS.id(), Job.meanMetres(film)))
                .orElseGet(job::settings);
    }
}
