/**
 * From a layout file to the tile map, and from fill amounts back to shapes. Owns all computational geometry; knows nothing
 * of film, press or pressure.
 */
@NullMarked
package org.evenstamp.geometry;

import org.jspecify.annotations.NullMarked;
