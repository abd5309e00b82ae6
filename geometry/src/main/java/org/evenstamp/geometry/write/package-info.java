/**
 * Polygons out to a file: {@link org.evenstamp.geometry.write.LayoutWriter} takes polygons one at a time and writes them in
 * one of the formats that {@code read} takes back, in micrometres on a grid of 0.1 nm, with memory that does not grow.
 */
@NullMarked
package org.evenstamp.geometry.write;

import org.jspecify.annotations.NullMarked;
