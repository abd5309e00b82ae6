/**
 * Dummy features: real polygons in the free area of a layout, clean of rules by construction.
 *
 * <p>A dummy may stand on the sites of a lattice that is fixed to the stamp's centre ({@link
 * org.evenstamp.geometry.dummy.DummyRules} says of which). One pass through the layout strikes out, by exact distances, every
 * site whose dummy would come too near to a drawn edge, stand in a feature or in a keep-out region; what is left are {@link
 * org.evenstamp.geometry.dummy.FreeSites}, a bit a site. They know how much dummy area each tile can take, and choose sites for
 * the area that is asked of each tile. Every dummy lies within one tile, so areas add up tile by tile and nothing depends on
 * the order of the work.
 *
 * <p>Lengths are whole steps of 0.1 nm inside: the grid of layout files, so that what is written is what was counted.
 */
@NullMarked
package org.evenstamp.geometry.dummy;

import org.jspecify.annotations.NullMarked;
