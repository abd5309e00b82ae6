/**
 * The front door of this module: a layout and a few choices go in, the tile map comes out. {@link
 * org.evenstamp.geometry.tile.TileMapper} drives; {@code coverage} and {@code measure} do the sums.
 */
@NullMarked
package org.evenstamp.geometry.tile;

import org.jspecify.annotations.NullMarked;
