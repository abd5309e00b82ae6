package org.evenstamp.engine.design;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.engine.result.Results;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;

/**
 * What can be changed to even out the residual layer, in which order, and what it brings: all of it solved.
 *
 * @param before the stamp as it is
 * @param after with what was drawn, run from its files
 * @param onFilm the same stamp on the film map
 * @param over where the residual layer was to be even, in words
 * @param goal what was made small, in words
 * @param startMetres that number as it is
 * @param levers in the order of the plan; those that are told and not taken last
 * @param warnings tiles that could not be served
 */
public record LeverPlan(
        Results before,
        Results after,
        FieldSet onFilm,
        String over,
        String goal,
        double startMetres,
        List<Lever> levers,
        List<Finding.Warning> warnings) {
    /**
     * One lever.
     *
     * @param name a word or two
     * @param what what was changed, in words
     * @param kind who takes it
     * @param file where it stands; empty where nothing is written
     * @param aloneMetres the number with it alone
     * @param togetherMetres the number with it and all before it; empty where it is no part of the plan
     */
    public record Lever(
            String name, String what, Kind kind, String file, double aloneMetres, OptionalDouble togetherMetres) {}

    /** Who takes a lever. */
    public enum Kind {
        /** It is drawn, and in the files. */
        DRAWN,
        /** It is written, and for whoever makes the film. */
        FILM,
        /** It is told alone: it would change what features do, or it does not pay. */
        TOLD
    }

    /** Copies the lists. */
    public LeverPlan {
        levers = List.copyOf(levers);
        warnings = List.copyOf(warnings);
    }
}
