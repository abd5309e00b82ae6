/**
 * A layout for the eye: {@link org.evenstamp.geometry.draw.Sketch} holds the polygons that a picture can show, packed into
 * whole steps of a fine lattice, and says how many it leaves out. What is computed never comes from here.
 */
@NullMarked
package org.evenstamp.geometry.draw;

import org.jspecify.annotations.NullMarked;
