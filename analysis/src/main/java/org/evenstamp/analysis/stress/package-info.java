/**
 * Stress that the filling leaves frozen in the film beside the cavity walls.
 *
 * <p>The film rises against a wall faster in a narrow cavity than in a wide one ({@link
 * org.evenstamp.analysis.stress.WallShear}); the stress grows and relaxes by Maxwell's law ({@link
 * org.evenstamp.analysis.stress.Maxwell}) until the film is solid; cooling adds a part that does not relax ({@link
 * org.evenstamp.analysis.stress.BiaxialStress}). {@link org.evenstamp.analysis.stress.FrozenStressProvider} puts them
 * together tile by tile.
 *
 * <p>What lowers the frozen part: slower filling, a higher temperature or a longer hold before cooling (both let it
 * relax), a wider cavity, a coating on which the film slips.
 */
@NullMarked
package org.evenstamp.analysis.stress;

import org.jspecify.annotations.NullMarked;
