/**
 * The film under an elastic stamp, solved in time.
 *
 * <p>A {@link org.evenstamp.analysis.film.FilmModel} says what there is: tiles, film, {@link
 * org.evenstamp.analysis.film.Stamp}, {@link org.evenstamp.analysis.film.Recipe}. A {@link
 * org.evenstamp.analysis.film.FilmSolver} steps it through time and shows every accepted step to a {@link
 * org.evenstamp.analysis.film.FilmObserver}; a {@link org.evenstamp.analysis.film.FilmHistory} is the observer that
 * keeps what a report needs. {@link org.evenstamp.analysis.film.FilmProvider} is the door to the rest of the tool.
 *
 * <p>Pressures are gauge pressures: zero is the pressure around the press. Heights count from the substrate upwards, a
 * pressure of the film on the stamp is positive and lifts it.
 */
@NullMarked
package org.evenstamp.analysis.film;

import org.jspecify.annotations.NullMarked;
