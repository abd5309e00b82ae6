package org.evenstamp.output.page;

import java.util.List;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.draw.Sketch;
import org.evenstamp.shared.field.FieldSet;
import org.jspecify.annotations.Nullable;

/**
 * What a page tells.
 *
 * @param results the run
 * @param written the job, as its file says it
 * @param other another run to set beside this one; null for none
 * @param help what is told of changes that would help; null for nothing
 */
public record PageContent(
        Results results,
        Written written,
        @Nullable Other other,
        @Nullable WhatHelps help) {
    /** A page that tells of no changes. */
    public PageContent(Results results, Written written, @Nullable Other other) {
        this(results, written, other, null);
    }

    /**
     * A job as its file says it.
     *
     * @param text the file, comments too; empty when there is none
     * @param depthMetres cavity depth of features that carry none; null when the job says nothing of it
     * @param parameters what the analyses were given
     */
    public record Written(String text, @Nullable Double depthMetres, List<UsedParameter> parameters) {
        /** Copies the list. */
        public Written {
            parameters = List.copyOf(parameters);
        }
    }

    /**
     * Returns what a page tells of a run.
     *
     * @param job the job that was run
     */
    public static PageContent of(Job job, Results results) {
        return new PageContent(results, WrittenJob.of(job, results), null);
    }

    /** Returns what a page tells of a run beside another. */
    public PageContent beside(Other another) {
        return new PageContent(results, written, another, help);
    }

    /** Returns what a page tells of a run and of changes that would help. */
    public PageContent with(WhatHelps changes) {
        return new PageContent(results, written, other, changes);
    }

    /** Returns the layout's polygons to draw. */
    public Sketch sketch() {
        return results.sketch();
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
     * Another run on the same grid.
     *
     * @param name what it is called on the page
     * @param fields its fields; those with an id of this run are compared
     */
    public record Other(String name, FieldSet fields) {}
}
