package org.evenstamp.geometry.measure;

/** Treats features finer than the cells of a picture. */
public final class FineFeatures {
    /** From this share on a cell is land with hardly anything cut into it. */
    public static final double PURE_LAND = 0.98;

    private FineFeatures() {}

    /**
     * Makes cavities of the cells that are mostly land but full of features finer than a cell: film finds its way out
     * there. A cell beside one that is mostly cavity is no such cell; there the edge of a larger feature runs through.
     *
     * @param land share of land in every cell, row 0 first; changed in place
     * @param columns cells along x
     */
    public static void open(double[] land, int columns) {
        int rows = land.length / columns;
        boolean[] open = new boolean[land.length];
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                open[i] = land[i] > 0.5 && land[i] < PURE_LAND && !besideCavity(land, columns, rows, column, row);
            }
        }
        for (int i = 0; i < land.length; i++) {
            if (open[i]) {
                land[i] = 0;
            }
        }
    }

    private static boolean besideCavity(double[] land, int columns, int rows, int column, int row) {
        for (int r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
            for (int c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
                if (land[r * columns + c] <= 0.5) {
                    return true;
                }
            }
        }
        return false;
    }
}
