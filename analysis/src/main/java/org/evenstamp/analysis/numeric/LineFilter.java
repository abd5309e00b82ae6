package org.evenstamp.analysis.numeric;

import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Multiplies a map by a symbol as {@link SpectralFilter} says, for sides of any length: rows first, then for each wavenumber
 * along x its column forward, times the symbol, and back, while it is in the cache; then rows back.
 */
final class LineFilter {
    private static final int BLOCK = 4; // rows side by side: four complex numbers fill a cache line

    private final int columns;
    private final int rows;
    private final int half;
    private final ThreadTeam team;
    private final double[] spectrum; // [kx][row] complex
    private final double[][] scratch;
    private final DoubleFFT_1D[] rowPlans;
    private final DoubleFFT_1D[] columnPlans;
    private final ThreadTeam.Task forward = this::forwardRows;
    private final ThreadTeam.Task middle = this::filterColumns;
    private final ThreadTeam.Task backward = this::backwardRows;
    private double[] input = {};
    private double[] symbol = {};
    private double[] output = {};

    LineFilter(int columns, int rows, ThreadTeam team) {
        this.columns = columns;
        this.rows = rows;
        this.team = team;
        half = columns / 2 + 1;
        spectrum = new double[2 * half * rows];
        scratch = new double[team.size()][BLOCK * columns];
        rowPlans = new DoubleFFT_1D[team.size()];
        columnPlans = new DoubleFFT_1D[team.size()];
        for (int m = 0; m < team.size(); m++) {
            rowPlans[m] = new DoubleFFT_1D(columns);
            columnPlans[m] = new DoubleFFT_1D(rows);
        }
    }

    void apply(double[] in, double[] by, double[] out) {
        input = in;
        symbol = by;
        output = out;
        int blocks = (rows + BLOCK - 1) / BLOCK;
        team.run(forward, blocks);
        team.run(middle, half);
        team.run(backward, blocks);
    }

    double[] symbolOf(double[] kernel) {
        input = kernel;
        team.run(forward, (rows + BLOCK - 1) / BLOCK);
        double[] result = new double[half * rows];
        for (int k = 0; k < half; k++) {
            columnPlans[0].complexForward(spectrum, 2 * k * rows);
            for (int r = 0; r < rows; r++) {
                result[k * rows + r] = spectrum[2 * (k * rows + r)];
            }
        }
        return result;
    }

    private void forwardRows(int from, int to, int member) {
        double[] lines = scratch[member];
        DoubleFFT_1D plan = rowPlans[member];
        for (int block = from; block < to; block++) {
            int first = block * BLOCK;
            int count = Math.min(BLOCK, rows - first);
            System.arraycopy(input, first * columns, lines, 0, count * columns);
            for (int j = 0; j < count; j++) {
                plan.realForward(lines, j * columns);
            }
            for (int k = 0; k < half; k++) {
                int target = 2 * (k * rows + first);
                int re = realAt(k);
                int im = imaginaryAt(k);
                for (int j = 0; j < count; j++) {
                    spectrum[target + 2 * j] = lines[j * columns + re];
                    spectrum[target + 2 * j + 1] = im < 0 ? 0 : lines[j * columns + im];
                }
            }
        }
    }

    private void filterColumns(int from, int to, int member) {
        DoubleFFT_1D plan = columnPlans[member];
        for (int k = from; k < to; k++) {
            int offset = 2 * k * rows;
            plan.complexForward(spectrum, offset);
            for (int r = 0; r < rows; r++) {
                double factor = symbol[k * rows + r];
                spectrum[offset + 2 * r] *= factor;
                spectrum[offset + 2 * r + 1] *= factor;
            }
            plan.complexInverse(spectrum, offset, true);
        }
    }

    private void backwardRows(int from, int to, int member) {
        double[] lines = scratch[member];
        DoubleFFT_1D plan = rowPlans[member];
        for (int block = from; block < to; block++) {
            int first = block * BLOCK;
            int count = Math.min(BLOCK, rows - first);
            for (int k = 0; k < half; k++) {
                int source = 2 * (k * rows + first);
                int re = realAt(k);
                int im = imaginaryAt(k);
                for (int j = 0; j < count; j++) {
                    lines[j * columns + re] = spectrum[source + 2 * j];
                    if (im >= 0) {
                        lines[j * columns + im] = spectrum[source + 2 * j + 1];
                    }
                }
            }
            for (int j = 0; j < count; j++) {
                plan.realInverse(lines, j * columns, true);
            }
            System.arraycopy(lines, 0, output, first * columns, count * columns);
        }
    }

    // The library packs a real transform into its own length: the last real part of an even one, or the last imaginary
    // part of an odd one, sits at index 1.
    private int realAt(int k) {
        return 2 * k == columns ? 1 : 2 * k;
    }

    private int imaginaryAt(int k) {
        if (k == 0 || 2 * k == columns) {
            return -1;
        }
        return 2 * k + 1 == columns ? 1 : 2 * k + 1;
    }
}
