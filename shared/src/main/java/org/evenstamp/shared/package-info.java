/**
 * The vocabulary that geometry and analysis meet in: units, the tile grid, fields, findings, problems, progress and the
 * door for analyses. Holds no physics and no geometry, and depends on nothing.
 */
@NullMarked
package org.evenstamp.shared;

import org.jspecify.annotations.NullMarked;
