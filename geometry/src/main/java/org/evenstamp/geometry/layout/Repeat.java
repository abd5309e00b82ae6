package org.evenstamp.geometry.layout;

import org.jspecify.annotations.Nullable;

/**
 * An array of copies: copy (i, j) is shifted by (i dx, j dy).
 *
 * @param columns copies along x, at least 1
 * @param rows copies along y, at least 1
 * @param dxMetres step along x
 * @param dyMetres step along y
 */
public record Repeat(int columns, int rows, double dxMetres, double dyMetres) {
    /** Checks the ranges. */
    public Repeat {
        if (columns < 1 || rows < 1 || !Double.isFinite(dxMetres) || !Double.isFinite(dyMetres)) {
            throw new IllegalArgumentException("repeat needs columns and rows of at least 1 and finite steps");
        }
    }

    /** Returns the number of copies, the drawn one included. */
    public long count() {
        return (long) columns * rows;
    }

    /** Stretches the box of one copy, left, lower, right and upper end, to that of an array; leaves it for none. */
    public static void stretch(double[] box, @Nullable Repeat array) {
        if (array != null) {
            double spanX = (array.columns() - 1) * array.dxMetres();
            double spanY = (array.rows() - 1) * array.dyMetres();
            box[0] += Math.min(0, spanX);
            box[1] += Math.min(0, spanY);
            box[2] += Math.max(0, spanX);
            box[3] += Math.max(0, spanY);
        }
    }
}
