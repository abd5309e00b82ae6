/**
 * The film under an elastic stamp, solved in time.
 *
 * <p>A {@link org.evenstamp.analysis.film.FilmModel} says what there is: tiles, film, {@link
 * org.evenstamp.analysis.film.Stamp}, {@link org.evenstamp.analysis.film.PressLoad}. A {@link
 * org.evenstamp.analysis.film.FilmSolver} steps it through time and shows every accepted step to a {@link
 * org.evenstamp.analysis.film.FilmObserver}; a {@link org.evenstamp.analysis.film.FilmHistory} is the observer that
 * keeps what a report needs. Inside the solver {@link org.evenstamp.analysis.film.TileStep} and {@link
 * org.evenstamp.analysis.film.TileLaw} are the tiles one by one, {@link org.evenstamp.analysis.film.TileFlow} is what flows
 * between them, {@link org.evenstamp.analysis.film.StampCompliance} the stamp, {@link
 * org.evenstamp.analysis.film.TilePreconditioner} what makes the linear solve short. {@link
 * org.evenstamp.analysis.film.FilmProvider} is the door to the rest of the tool.
 *
 * <p>Pressures are gauge pressures: zero is the pressure around the press. Heights count from the substrate upwards, a
 * pressure of the film on the stamp is positive and lifts it.
 */
@NullMarked
package org.evenstamp.analysis.film;

import org.jspecify.annotations.NullMarked;
