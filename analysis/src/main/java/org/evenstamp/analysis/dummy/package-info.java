/**
 * How much dummy area goes where.
 *
 * <p>A residual layer mirrors the cavity volume of the layout, averaged over the distance that film and stamp can even out
 * ({@link org.evenstamp.analysis.dummy.FlowWindow}). So the amounts of dummies are those that make the averaged volume even:
 * {@link org.evenstamp.analysis.dummy.VarianceProgram} makes its variance small, {@link
 * org.evenstamp.analysis.dummy.RangeProgram} its range, both within the room that the tiles have, both with a proof of how far
 * from the best they are ({@link org.evenstamp.analysis.dummy.ProgramReport}). {@link
 * org.evenstamp.analysis.dummy.DummyTask} says what is asked, {@link org.evenstamp.analysis.dummy.Window} how neighbours are
 * averaged: {@link org.evenstamp.analysis.dummy.GaussianWindow} or {@link org.evenstamp.analysis.dummy.BoxWindow}.
 *
 * <p>Amounts are volumes per area in metres, as the tile map's cavity volume is: positive for cavities, negative for
 * protrusions that stand in them. Maps are indexed as {@link org.evenstamp.shared.grid.TileGrid} says.
 */
@NullMarked
package org.evenstamp.analysis.dummy;

import org.jspecify.annotations.NullMarked;
