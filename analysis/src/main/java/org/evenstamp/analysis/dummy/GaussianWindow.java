package org.evenstamp.analysis.dummy;

import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.ThreadTeam;

/**
 * A Gaussian average around every tile, by Fourier transform: {@code exp(-s²k²/2)} at the wavenumber k. It is symmetric and
 * keeps sums. A map that does not repeat itself goes on as its mirror image beyond its rim, as film does that cannot leave.
 *
 * <p>Below half a tile the weights are those of the band-limited Gaussian, some of them slightly negative. Not for use by
 * several threads; the team must live as long as the window.
 */
public final class GaussianWindow implements Window {
    private final int columns;
    private final int rows;
    private final int width;
    private final SpectralFilter filter;
    private final double[] symbol;
    private final double[] slopeSymbol;
    private final double[] room;

    /**
     * Prepares the transforms.
     *
     * @param sigmaTiles standard deviation of the weights in tiles, zero or more
     * @param periodic whether the map repeats itself
     */
    public GaussianWindow(int columns, int rows, double sigmaTiles, boolean periodic, ThreadTeam team) {
        if (!(sigmaTiles >= 0) || Double.isInfinite(sigmaTiles)) {
            throw new IllegalArgumentException(
                    "the window's width must be a finite number of tiles, was " + sigmaTiles);
        }
        this.columns = columns;
        this.rows = rows;
        width = periodic ? columns : 2 * columns;
        int height = periodic ? rows : 2 * rows;
        filter = new SpectralFilter(width, height, team);
        symbol = new double[filter.symbolSize()];
        slopeSymbol = new double[symbol.length];
        room = periodic ? new double[0] : new double[width * height];
        for (int i = 0; i < symbol.length; i++) {
            int column = i / height;
            double kx = 2 * Math.PI * column / width;
            double ky = 2 * Math.PI * SpectralFilter.signed(i % height, height) / height;
            symbol[i] = Math.exp(-sigmaTiles * sigmaTiles * (kx * kx + ky * ky) / 2);
            slopeSymbol[i] = i == 0 ? 0 : symbol[i] * symbol[i];
        }
    }

    @Override
    public int tiles() {
        return columns * rows;
    }

    @Override
    public int windows() {
        return columns * rows;
    }

    @Override
    public void average(double[] amounts, double[] averages) {
        filter(amounts, symbol, averages);
    }

    @Override
    public void spread(double[] weights, double[] amounts) {
        filter(weights, symbol, amounts);
    }

    @Override
    public void slope(double[] amounts, double[] slope, double[] scratch) {
        filter(amounts, slopeSymbol, slope);
    }

    private void filter(double[] in, double[] by, double[] out) {
        if (room.length == 0) {
            filter.apply(in, by, out);
            return;
        }
        for (int row = 0; row < rows; row++) {
            int lower = row * width;
            int upper = (2 * rows - 1 - row) * width;
            for (int column = 0; column < columns; column++) {
                room[lower + column] = in[row * columns + column];
                room[lower + width - 1 - column] = in[row * columns + column];
            }
            System.arraycopy(room, lower, room, upper, width);
        }
        filter.apply(room, by, room);
        for (int row = 0; row < rows; row++) {
            System.arraycopy(room, row * width, out, row * columns, columns);
        }
    }
}
