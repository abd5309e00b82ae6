package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.List;
import java.util.function.DoubleFunction;
import org.evenstamp.analysis.pipeline.GivenParameters;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Plan;
import org.evenstamp.geometry.read.LayoutFormat;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/**
 * A checked job.
 *
 * @param name file name of the job without its extension
 * @param content the job as written, for the record
 * @param layout the layout
 * @param materials the user's own materials; null when the job names none
 * @param tileSideMetres side of a tile; null to choose it from the layout
 * @param structure how squeeze moment, flow paths and widths are found
 * @param depthMetres cavity depth of features that carry none; null when it does not matter to the user
 * @param limits bounds that the job sets
 * @param output directory for the results
 * @param film the film, where it differs from place to place; null where it does not
 * @param plan the analyses that will run, and those that will not
 * @param settings every value of the job, SI, with the defaults of what it leaves out
 */
public record Job(
        String name,
        JobNode.Mapping content,
        LayoutChoice layout,
        @Nullable MaterialFile materials,
        @Nullable Double tileSideMetres,
        MapOptions.Structure structure,
        @Nullable Double depthMetres,
        List<Limit> limits,
        Path output,
        @Nullable Coating film,
        Plan plan,
        Parameters settings) {
    /** Copies the limits. */
    public Job {
        limits = List.copyOf(limits);
    }

    /** Returns this job without analyses and limits, for whoever needs the tile map alone. */
    public Job measuring() {
        Plan nothing =
                new Pipeline(List.of()).plan(TileFields.all(), analysis -> new GivenParameters.Lacking(List.of()));
        return new Job(
                name,
                content,
                layout,
                materials,
                tileSideMetres,
                structure,
                depthMetres,
                List.of(),
                output,
                null,
                nothing,
                settings);
    }

    /** Returns this job on another layout, cut into tiles of the given side. */
    public Job on(LayoutChoice other, double sideMetres) {
        return new Job(
                name,
                content,
                other,
                materials,
                sideMetres,
                structure,
                depthMetres,
                limits,
                output,
                film,
                plan,
                settings);
    }

    /**
     * Returns the plan to run on fields: where they hold the film before the imprint, its mean is the film thickness of every
     * analysis that knows only one.
     */
    public Plan planOn(FieldSet fields) {
        return film == null ? plan : film.planOf().apply(meanMetres(fields.get(TileFields.FILM_COATED)));
    }

    /** Returns the mean of a field over its tiles, SI. */
    public static double meanMetres(Field field) {
        double sum = 0;
        for (double value : field.toArray()) {
            sum += value;
        }
        return sum / field.grid().size();
    }

    /**
     * A film that differs from place to place.
     *
     * @param map the places
     * @param planOf makes the plan for a mean thickness in m
     */
    public record Coating(FilmMap map, DoubleFunction<Plan> planOf) {}

    /**
     * A file of materials.
     *
     * @param file where it is
     * @param asWritten how the job names it
     */
    public record MaterialFile(Path file, String asWritten) {}

    /**
     * Which layout, and how to read it.
     *
     * @param file where it is
     * @param asWritten how the job or the command line names it
     * @param format its format; null to look at its content
     * @param metresPerUnit length of one coordinate step; null when the file says it
     * @param drawn what the drawn polygons are
     * @param outline the stamp's rectangle; null for the bounding box
     * @param repair whether bad features are repaired rather than skipped
     */
    public record LayoutChoice(
            Path file,
            String asWritten,
            @Nullable LayoutFormat format,
            @Nullable Double metresPerUnit,
            MapOptions.Drawn drawn,
            MapOptions.@Nullable Outline outline,
            boolean repair) {}
}
