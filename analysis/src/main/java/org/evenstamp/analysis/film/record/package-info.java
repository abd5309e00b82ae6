/**
 * What is kept of a solve: {@link org.evenstamp.analysis.film.record.FilmHistory} watches the solver and keeps the last maps,
 * fill times, peaks and figures over time; {@link org.evenstamp.analysis.film.record.FilmSnapshots} keeps the film at some
 * times, {@link org.evenstamp.analysis.film.record.UnrelaxedFill} what the filling leaves for the analyses after it.
 */
@NullMarked
package org.evenstamp.analysis.film.record;

import org.jspecify.annotations.NullMarked;
