package org.evenstamp.geometry.measure;

/**
 * What was measured in the core of a picture, lengths in cells.
 *
 * @param cells area of the core, in cells
 * @param landCells land area in the core, in cells
 * @param torsion integral of 12 u over the core's land, in cells to the fourth
 * @param pathSum integral of the distance to the nearest cavity over the core's land, in cells cubed
 * @param pathMax largest distance to the nearest cavity
 * @param converged whether the torsion solve met its tolerance
 */
public record PictureMeasures(
        double cells, double landCells, double torsion, double pathSum, double pathMax, boolean converged) {}
