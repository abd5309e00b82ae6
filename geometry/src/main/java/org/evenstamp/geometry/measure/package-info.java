/**
 * What the shape of the land (the protrusions' footprint) does to the film under it: squeeze moment, flow paths and widths.
 *
 * <p>A piece of layout becomes a small picture whose cells hold the land's share of their area ({@link
 * org.evenstamp.geometry.coverage.CoverageSums} draws it exactly). {@link
 * org.evenstamp.geometry.measure.DistanceMap} finds the way from every land cell to the nearest cavity, {@link
 * org.evenstamp.geometry.measure.TorsionSolver} the torsion function that Reynolds' equation and Saint-Venant's torsion
 * share, {@link org.evenstamp.geometry.measure.PictureMeasurer} what a tile wants to know of both. Both methods read the
 * shares to place the edge between two cells, so that features a few cells wide are measured well. {@link
 * org.evenstamp.geometry.measure.TextureMeasures} has the same quantities of regular textures, from closed forms where
 * there are any.
 */
@NullMarked
package org.evenstamp.geometry.measure;

import org.jspecify.annotations.NullMarked;
