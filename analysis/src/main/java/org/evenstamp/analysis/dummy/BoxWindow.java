package org.evenstamp.analysis.dummy;

/**
 * Square windows of whole tiles, every position of them on the map: window (column, row) covers the tiles from there on, to
 * the right and up. Not for use by several threads.
 */
public final class BoxWindow implements Window {
    private final int columns;
    private final int rows;
    private final int across;
    private final int up;
    private final int side;
    private final boolean periodic;
    private final double[] strips;
    private final double[] line;

    /**
     * Makes windows.
     *
     * @param side tiles along a side of a window
     * @param periodic whether windows go on over the map's rim to its other side
     */
    public BoxWindow(int columns, int rows, int side, boolean periodic) {
        if (columns < 1 || rows < 1 || side < 1 || side > columns || side > rows) {
            throw new IllegalArgumentException(
                    "windows of " + side + " tiles do not fit on " + columns + " x " + rows + " tiles");
        }
        this.columns = columns;
        this.rows = rows;
        this.side = side;
        this.periodic = periodic;
        across = periodic ? columns : columns - side + 1;
        up = periodic ? rows : rows - side + 1;
        strips = new double[across * rows];
        line = new double[2 * Math.max(columns, rows) + side + 1];
    }

    @Override
    public int tiles() {
        return columns * rows;
    }

    @Override
    public int windows() {
        return across * up;
    }

    @Override
    public void average(double[] amounts, double[] averages) {
        for (int row = 0; row < rows; row++) {
            sums(amounts, row * columns, 1, columns, strips, row * across, 1, across);
        }
        for (int column = 0; column < across; column++) {
            sums(strips, column, across, rows, averages, column, across, up);
        }
        scale(averages);
    }

    @Override
    public void spread(double[] weights, double[] amounts) {
        for (int column = 0; column < across; column++) {
            sumsBack(weights, column, across, up, strips, column, across, rows);
        }
        for (int row = 0; row < rows; row++) {
            sumsBack(strips, row * across, 1, across, amounts, row * columns, 1, columns);
        }
        scale(amounts);
    }

    private void scale(double[] values) {
        double factor = 1.0 / (side * side);
        for (int i = 0; i < values.length; i++) {
            values[i] *= factor;
        }
    }

    /** Sums of {@code side} values from each place on, {@code count} of them. */
    private void sums(double[] in, int from, int step, int length, double[] out, int to, int outStep, int count) {
        line[0] = 0;
        int needed = count + side - 1;
        for (int i = 0; i < needed; i++) {
            line[i + 1] = line[i] + in[from + (i < length ? i : i - length) * step];
        }
        for (int i = 0; i < count; i++) {
            out[to + i * outStep] = line[i + side] - line[i];
        }
    }

    /** Sums of the {@code side} values up to each place, of those that there are: the transpose of {@link #sums}. */
    private void sumsBack(double[] in, int from, int step, int length, double[] out, int to, int outStep, int count) {
        line[0] = 0;
        int needed = count + side - 1;
        for (int i = 0; i < needed; i++) {
            int place = i - side + 1;
            boolean there = periodic || (place >= 0 && place < length);
            line[i + 1] = line[i] + (there ? in[from + (place < 0 ? place + length : place) * step] : 0);
        }
        for (int i = 0; i < count; i++) {
            out[to + i * outStep] = line[i + side] - line[i];
        }
    }
}
