/**
 * The film under an elastic stamp: the analysis that solves it in time, and what it tells.
 *
 * <p>{@link org.evenstamp.analysis.film.FilmProvider} is the door to the rest of the tool. What lies where:
 *
 * <ul>
 *   <li>this package: from a job to the solver and back. {@code FilmSolveParameters} are the parameters, {@code FilmMaps} and
 *       {@code SolverInputReader} make the solver's input, {@code FilmReport}, {@code ProcessReport} and {@code FilmWarnings}
 *       make fields, figures, curves and warnings of what came out; {@code FilmAnalysis} calls one after the other.
 *   <li>{@link org.evenstamp.analysis.film.load}: what the press does to the film over time. A {@code PressSchedule} is made
 *       of a job; a {@code PressLoad} tells viscosity and pressure at a time.
 *   <li>{@link org.evenstamp.analysis.film.stamp}: the stamp's body, its elastic answer, and its parameters.
 *   <li>{@link org.evenstamp.analysis.film.solve}: the physics of a tile, of the flow between tiles and of the time steps. A
 *       {@code SolverInput} goes in, every accepted {@code FilmState} comes out, and in the end a {@code RunReport}.
 *       {@code FilmAdjoint} goes the same steps backwards, along a {@code FilmTape} of them.
 *   <li>{@link org.evenstamp.analysis.film.record}: what is kept of the states for the report, such as fill times.
 * </ul>
 *
 * <p>Arrows between them: this package sees all; {@code record} sees {@code solve}; {@code solve} sees {@code stamp} and
 * {@code load}.
 *
 * <p>Pressures are gauge pressures: zero is the pressure around the press. Heights count from the substrate upwards, a
 * pressure of the film on the stamp is positive and lifts it.
 */
@NullMarked
package org.evenstamp.analysis.film;

import org.jspecify.annotations.NullMarked;
