/**
 * The stamp as an elastic solid: {@link org.evenstamp.analysis.film.stamp.Stamp} is its body and how far waves of pressure
 * press it in, {@link org.evenstamp.analysis.film.stamp.StampCompliance} what the pressures of all tiles do to its face, {@link
 * org.evenstamp.analysis.film.stamp.StampKernel} the answer to one tile of a stamp that is alone, and {@link
 * org.evenstamp.analysis.film.stamp.StampParameters} what a job says of it.
 */
@NullMarked
package org.evenstamp.analysis.film.stamp;

import org.jspecify.annotations.NullMarked;
