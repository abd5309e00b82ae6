/**
 * Values measured at points, such as film thickness, brought onto the tiles: {@link
 * org.evenstamp.geometry.scatter.PointValues}.
 */
@NullMarked
package org.evenstamp.geometry.scatter;

import org.jspecify.annotations.NullMarked;
