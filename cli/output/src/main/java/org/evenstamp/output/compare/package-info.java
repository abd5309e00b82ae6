/**
 * Two runs beside each other, from what they left on disk.
 *
 * <p>{@link org.evenstamp.output.compare.StoredRun} is a directory of results read back, checked on the way; {@link
 * org.evenstamp.output.compare.StoredFields} holds its maps. {@link org.evenstamp.output.compare.RunDifference} compares two of them
 * within a {@link org.evenstamp.output.compare.Tolerance}: the tiles of each field ({@link
 * org.evenstamp.output.compare.FieldDifference}), figures, limits, findings and warnings. {@link
 * org.evenstamp.output.compare.DifferenceText} and {@link org.evenstamp.output.compare.DifferenceJson} tell it. Everything is in
 * display units, as it is on disk. The first run is A, the second B; a shift is B less A.
 */
@NullMarked
package org.evenstamp.output.compare;

import org.jspecify.annotations.NullMarked;
