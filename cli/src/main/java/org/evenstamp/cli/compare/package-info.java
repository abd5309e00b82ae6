/**
 * Two runs beside each other, from what they left on disk.
 *
 * <p>{@link org.evenstamp.cli.compare.StoredRun} is a directory of results read back, checked on the way; {@link
 * org.evenstamp.cli.compare.StoredFields} holds its maps. {@link org.evenstamp.cli.compare.RunDifference} compares two of them
 * within a {@link org.evenstamp.cli.compare.Tolerance}: the tiles of each field ({@link
 * org.evenstamp.cli.compare.FieldDifference}), figures, limits, findings and warnings. {@link
 * org.evenstamp.cli.compare.DifferenceText} and {@link org.evenstamp.cli.compare.DifferenceJson} tell it. Everything is in
 * display units, as it is on disk. The first run is A, the second B; a shift is B less A.
 */
@NullMarked
package org.evenstamp.cli.compare;

import org.jspecify.annotations.NullMarked;
