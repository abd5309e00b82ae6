/**
 * What the press does to the film over time: {@link org.evenstamp.analysis.film.load.PressLoad} is asked by the solver, {@link
 * org.evenstamp.analysis.film.load.ProcessLoad} and {@link org.evenstamp.analysis.film.load.NipLoad} answer for a process and
 * for a nip that passes over the map, and {@link org.evenstamp.analysis.film.load.PressSchedule} makes one of a job.
 */
@NullMarked
package org.evenstamp.analysis.film.load;

import org.jspecify.annotations.NullMarked;
