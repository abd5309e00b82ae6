/**
 * The solve of the film under an elastic stamp, in implicit time steps.
 *
 * <p>From the outside to the inside:
 *
 * <ul>
 *   <li>{@link org.evenstamp.analysis.film.solve.FilmSolver} chooses the time steps; {@link
 *       org.evenstamp.analysis.film.solve.TimeStep} tries one by Newton's method;
 *   <li>{@link org.evenstamp.analysis.film.solve.StampMismatch} tells how far film and stamp are from agreeing, {@link
 *       org.evenstamp.analysis.film.solve.NewtonSystem} moves the pressures so that they agree better;
 *   <li>{@code StepViscosity} is how easily the film flows in each tile during a step;
 *   <li>{@link org.evenstamp.analysis.film.solve.TileStates} and {@link org.evenstamp.analysis.film.solve.TileLaw} are the
 *       tiles one by one, {@link org.evenstamp.analysis.film.solve.TileFlow} what flows between them at the mobilities of {@link
 *       org.evenstamp.analysis.film.solve.GapMobility}, {@link org.evenstamp.analysis.film.solve.RigidMotion} the height and
 *       tilt of the stamp;
 *   <li>{@link org.evenstamp.analysis.film.solve.TilePreconditioner} and {@link
 *       org.evenstamp.analysis.film.solve.FlowFactor} make the linear solve short.
 *   <li>{@link org.evenstamp.analysis.film.solve.FilmAdjoint} goes back along a {@link
 *       org.evenstamp.analysis.film.solve.FilmTape}, step by step with {@link org.evenstamp.analysis.film.solve.StepAdjoint},
 *       and makes a {@link org.evenstamp.analysis.film.solve.FilmGradient}; {@code LawSlopes}, {@code FlowSlopes} and {@code
 *       MobilitySlopes} are the derivatives of tile, flow and mobility.
 * </ul>
 *
 * <p>{@link org.evenstamp.analysis.film.solve.SolverInput} is all that the solver knows of its job. An {@link
 * org.evenstamp.analysis.film.solve.FilmObserver} sees every accepted {@link org.evenstamp.analysis.film.solve.FilmState}.
 */
@NullMarked
package org.evenstamp.analysis.film.solve;

import org.jspecify.annotations.NullMarked;
