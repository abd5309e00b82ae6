/**
 * The physics: from fields of the tile map to fields of the imprint. Works on arrays alone; knows nothing of polygons and
 * files.
 */
@NullMarked
package org.evenstamp.analysis;

import org.jspecify.annotations.NullMarked;
