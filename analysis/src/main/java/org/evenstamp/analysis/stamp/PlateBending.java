package org.evenstamp.analysis.stamp;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Largest bending stress at the faces of a plate from the map of its deflection.
 *
 * <p>Source: Kirchhoff's plate, {@code σ_x = E t/(2(1-ν²)) (κ_x + ν κ_y)}. The curvature is taken over a step of about one
 * thickness (at least one tile): ripples shorter than the plate is thick dent it without bending it, and such a step
 * takes their share away. Validity: deflection varies over more than about four thicknesses; at the rim the curvature
 * of the nearest place with room for the step is used.
 */
public final class PlateBending {
    private final Field deflection;
    private final TileGrid grid;
    private final int step;
    private final double stiffness;
    private final double poisson;

    /**
     * Takes a plate and its deflection.
     *
     * @param deflection of the face, m; a tile without a value counts as 0
     * @param modulus E, Pa
     * @param poisson ν
     * @param thickness t, m
     */
    public PlateBending(Field deflection, double modulus, double poisson, double thickness) {
        this.deflection = deflection;
        this.grid = deflection.grid();
        this.step = (int) Math.max(1, Math.round(thickness / grid.pitchMetres()));
        this.stiffness = modulus * thickness / (2 * (1 - poisson * poisson));
        this.poisson = poisson;
    }

    /** Returns whether the grid is too small in both directions for one step, so that no bending can be seen. */
    public boolean blind() {
        return grid.columns() <= 2 * step && grid.rows() <= 2 * step;
    }

    /** Returns the larger of the two principal stresses by size, at either face, in a tile, Pa, not negative. */
    public double stress(int tile) {
        int column = grid.column(tile);
        int row = grid.row(tile);
        double kx = 0;
        double ky = 0;
        double kxy = 0;
        double run = step * grid.pitchMetres();
        boolean wide = grid.columns() > 2 * step;
        boolean high = grid.rows() > 2 * step;
        int c = wide ? clamp(column, grid.columns()) : column;
        int r = high ? clamp(row, grid.rows()) : row;
        double centre = deflection.at(c, r);
        if (wide) {
            kx = (deflection.at(c - step, r) - 2 * centre + deflection.at(c + step, r)) / (run * run);
        }
        if (high) {
            ky = (deflection.at(c, r - step) - 2 * centre + deflection.at(c, r + step)) / (run * run);
        }
        if (wide && high) {
            kxy = (deflection.at(c + step, r + step)
                            - deflection.at(c - step, r + step)
                            - deflection.at(c + step, r - step)
                            + deflection.at(c - step, r - step))
                    / (4 * run * run);
        }
        double mean = (kx + ky) / 2;
        double range = Math.hypot((kx - ky) / 2, kxy);
        return stiffness * ((1 + poisson) * Math.abs(mean) + (1 - poisson) * range);
    }

    private int clamp(int place, int count) {
        return Math.min(count - 1 - step, Math.max(step, place));
    }
}
