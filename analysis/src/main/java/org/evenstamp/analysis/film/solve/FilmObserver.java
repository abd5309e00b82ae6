package org.evenstamp.analysis.film.solve;

/** Sees every accepted step of a {@link FilmSolver}, the state before the first one included (with a step of 0 s). */
@FunctionalInterface
public interface FilmObserver {
    /** Called after a step with the state at its end; the state changes when the solver goes on. */
    void accepted(FilmState state);
}
