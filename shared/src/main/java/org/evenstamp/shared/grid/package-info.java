/**
 * The square grid of tiles on which everything is averaged. Row order and the direction of y are said once, in
 * {@link org.evenstamp.shared.grid.TileGrid}.
 */
@NullMarked
package org.evenstamp.shared.grid;

import org.jspecify.annotations.NullMarked;
