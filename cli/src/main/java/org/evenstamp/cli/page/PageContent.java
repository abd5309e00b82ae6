package org.evenstamp.cli.page;

import java.util.List;
import org.evenstamp.cli.report.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.jspecify.annotations.Nullable;

/**
 * What a page tells.
 *
 * @param results the run
 * @param sketch the layout's polygons to draw
 * @param parameters what the analyses were given
 * @param snapshots fields at several times
 * @param other another run to set beside this one; null for none
 */
public record PageContent(
        Results results,
        Sketch sketch,
        List<UsedParameter> parameters,
        List<Snapshots> snapshots,
        @Nullable Other other) {
    /** Copies the lists. */
    public PageContent {
        parameters = List.copyOf(parameters);
        snapshots = List.copyOf(snapshots);
    }

    /**
     * A parameter of an analysis that ran.
     *
     * @param id path in the job file
     * @param value as written in the job, or the default with its unit; empty when neither is there
     * @param given whether the job says it
     * @param analyses ids of the analyses that read it
     * @param meaning one sentence
     */
    public record UsedParameter(String id, String value, boolean given, List<String> analyses, String meaning) {
        /** Copies the list. */
        public UsedParameter {
            analyses = List.copyOf(analyses);
        }
    }

    /**
     * One field at several times.
     *
     * @param fieldId id of the field that has this course
     * @param at the states in order of time, each on the grid of the results
     */
    public record Snapshots(String fieldId, List<Snapshot> at) {
        /** Copies the list. */
        public Snapshots {
            at = List.copyOf(at);
        }
    }

    /**
     * A field at one time.
     *
     * @param seconds the time
     * @param field the values
     */
    public record Snapshot(double seconds, Field field) {}

    /**
     * Another run on the same grid.
     *
     * @param name what it is called on the page
     * @param fields its fields; those with an id of this run are compared
     */
    public record Other(String name, FieldSet fields) {}
}
