/**
 * Numerical tools without physics: a {@link org.evenstamp.analysis.numeric.ThreadTeam} of threads that always cuts work alike,
 * a {@link org.evenstamp.analysis.numeric.SpectralFilter} that multiplies a periodic map by a symbol in wavenumber space,
 * and {@link org.evenstamp.analysis.numeric.ProjectedCg}, conjugate gradients under linear constraints.
 *
 * <p>Everything works on {@code double[]} maps in the order of {@link org.evenstamp.shared.grid.TileGrid}, allocates once,
 * and gives the same bits for any number of threads.
 */
@NullMarked
package org.evenstamp.analysis.numeric;

import org.jspecify.annotations.NullMarked;
