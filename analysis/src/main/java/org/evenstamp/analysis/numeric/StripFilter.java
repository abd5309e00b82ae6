package org.evenstamp.analysis.numeric;

import java.util.Arrays;

/**
 * Multiplies a map by a symbol as {@link SpectralFilter} says, for sides without prime factors above 5.
 *
 * <p>Two columns of the map, half its width apart, travel as the real and imaginary part of one complex column: along y the
 * transform runs on half as many columns, and the spectra of the two come apart by symmetry. They are laid across, and
 * the transform along x, the symbol and the way back run while a strip of wavenumbers is in the cache. Three loops over
 * strips, each shared by the team.
 */
final class StripFilter {
    private static final int CACHED = 1 << 15; // complex numbers of a strip: half a megabyte
    private static final int LEAST_STRIP = 16;
    private static final int MOST_STRIP = 64; // longer ones gain nothing

    private static final int ABREAST = 4; // columns laid across at a time

    private final int columns;
    private final int rows;
    private final int pair; // columns of the left half
    private final int half; // wavenumbers along y that tell all others
    private final int stripX;
    private final int stripY;
    private final double scale;
    private final ColumnFourier alongY;
    private final ColumnFourier alongX;
    private final int[] at; // row of each wavenumber along y
    private final int[] mirror; // row of its opposite
    private final double[][][] stripRe; // of each member, [row][x]
    private final double[][][] stripIm;
    private final double[][] left0; // spectra along y of the left half, [x][ky], real and imaginary
    private final double[][] left1;
    private final double[][] right0;
    private final double[][] right1;
    private final double[][] acrossRe; // both halves
    private final double[][] acrossIm;
    private final ThreadTeam team;
    private final SharingTrial sharing;
    private final Runnable loops = this::filter;
    private final ThreadTeam.Task forward = this::forward;
    private final ThreadTeam.Task middle = this::middle;
    private final ThreadTeam.Task backward = this::backward;
    private double[] input = {};
    private double[] symbol = {};
    private double[] output = {};

    StripFilter(int columns, int rows, ThreadTeam team) {
        this.columns = columns;
        this.rows = rows;
        this.team = team;
        sharing = new SharingTrial(team);
        pair = (columns + 1) / 2;
        half = rows / 2 + 1;
        stripX = strip(rows, pair);
        stripY = strip(columns, half);
        scale = 0.5 / ((double) rows * columns); // the halves come apart, and back together, times two
        alongY = new ColumnFourier(rows);
        alongX = new ColumnFourier(columns);
        at = Arrays.copyOf(alongY.positions(), half);
        mirror = new int[half];
        for (int ky = 0; ky < half; ky++) {
            mirror[ky] = alongY.positions()[(rows - ky) % rows];
        }
        stripRe = new double[team.size()][rows][stripX];
        stripIm = new double[team.size()][rows][stripX];
        int padded = (pair + ABREAST - 1) / ABREAST * ABREAST;
        left0 = new double[padded][half];
        left1 = new double[padded][half];
        right0 = new double[padded][half];
        right1 = new double[padded][half];
        acrossRe = Arrays.copyOf(left0, columns);
        acrossIm = Arrays.copyOf(left1, columns);
        System.arraycopy(right0, 0, acrossRe, pair, columns - pair);
        System.arraycopy(right1, 0, acrossIm, pair, columns - pair);
    }

    /** Returns how many lines of a length to take at a time, so that they stay in the cache and each member has some. */
    private int strip(int length, int lines) {
        int share = (lines + team.size() - 1) / team.size();
        int cached = Math.max(LEAST_STRIP, Math.min(MOST_STRIP, CACHED / length));
        return Math.min(cached, (share + ABREAST - 1) / ABREAST * ABREAST);
    }

    void apply(double[] in, double[] by, double[] out) {
        input = in;
        symbol = by;
        output = out;
        sharing.run(loops);
    }

    private void filter() {
        int across = (pair + stripX - 1) / stripX;
        team.run(forward, across);
        team.run(middle, (half + stripY - 1) / stripY);
        team.run(backward, across);
    }

    private void forward(int from, int to, int member) {
        double[][] re = stripRe[member];
        double[][] im = stripIm[member];
        for (int strip = from; strip < to; strip++) {
            int first = strip * stripX;
            int width = Math.min(stripX, pair - first);
            int rightWidth = Math.min(width, columns - pair - first); // one less where the columns are odd
            for (int row = 0; row < rows; row++) {
                System.arraycopy(input, row * columns + first, re[row], 0, width);
                System.arraycopy(input, row * columns + pair + first, im[row], 0, rightWidth);
                if (rightWidth < width) {
                    im[row][rightWidth] = 0;
                }
            }
            alongY.forward(re, im, 0, width);
            for (int ky = 0; ky < half; ky++) {
                if (at[ky] != mirror[ky]) {
                    part(re[at[ky]], im[at[ky]], re[mirror[ky]], im[mirror[ky]], width);
                }
            }
            for (int x = 0; x < width; x += ABREAST) {
                layAcross(re, at, x, left0, first + x);
                layAcross(im, at, x, left1, first + x);
                layAcross(re, mirror, x, right0, first + x);
                layAcross(im, mirror, x, right1, first + x);
            }
            for (int ky = 0; ky < half; ky++) {
                for (int x = 0; at[ky] == mirror[ky] && x < width; x++) {
                    left0[first + x][ky] = 2 * re[at[ky]][x];
                    left1[first + x][ky] = 0;
                    right0[first + x][ky] = 2 * im[at[ky]][x];
                    right1[first + x][ky] = 0;
                }
            }
        }
    }

    /** From Z(ky) and Z(-ky) to twice A(ky) and B(ky), Z = A + iB, A and B spectra of real columns. */
    private static void part(double[] re, double[] im, double[] mirrorRe, double[] mirrorIm, int width) {
        for (int x = 0; x < width; x++) {
            double zr = re[x];
            double zi = im[x];
            double mr = mirrorRe[x];
            double mi = mirrorIm[x];
            re[x] = zr + mr;
            im[x] = zi - mi;
            mirrorRe[x] = zi + mi;
            mirrorIm[x] = mr - zr;
        }
    }

    /** From A(ky) and B(ky) to Z(ky) and Z(-ky). */
    private static void join(double[] re, double[] im, double[] mirrorRe, double[] mirrorIm, int width) {
        for (int x = 0; x < width; x++) {
            double ar = re[x];
            double ai = im[x];
            double br = mirrorRe[x];
            double bi = mirrorIm[x];
            re[x] = ar - bi;
            im[x] = ai + br;
            mirrorRe[x] = ar + bi;
            mirrorIm[x] = br - ai;
        }
    }

    private static void layAcross(double[][] from, int[] order, int x, double[][] to, int target) {
        double[] t0 = to[target];
        double[] t1 = to[target + 1];
        double[] t2 = to[target + 2];
        double[] t3 = to[target + 3];
        for (int ky = 0; ky < order.length; ky++) {
            double[] row = from[order[ky]];
            t0[ky] = row[x];
            t1[ky] = row[x + 1];
            t2[ky] = row[x + 2];
            t3[ky] = row[x + 3];
        }
    }

    private static void layBack(double[][] from, int source, double[][] to, int[] order, int x) {
        double[] s0 = from[source];
        double[] s1 = from[source + 1];
        double[] s2 = from[source + 2];
        double[] s3 = from[source + 3];
        for (int ky = 0; ky < order.length; ky++) {
            double[] row = to[order[ky]];
            row[x] = s0[ky];
            row[x + 1] = s1[ky];
            row[x + 2] = s2[ky];
            row[x + 3] = s3[ky];
        }
    }

    private void middle(int from, int to, int member) {
        int[] order = alongX.positions();
        for (int strip = from; strip < to; strip++) {
            int first = strip * stripY;
            int end = Math.min(half, first + stripY);
            alongX.forward(acrossRe, acrossIm, first, end);
            for (int kx = 0; kx < columns; kx++) {
                int symbolRow = Math.min(kx, columns - kx) * rows;
                multiply(acrossRe[order[kx]], acrossIm[order[kx]], symbol, symbolRow, scale, first, end);
            }
            alongX.inverse(acrossRe, acrossIm, first, end);
        }
    }

    private static void multiply(
            double[] re, double[] im, double[] symbol, int offset, double scale, int from, int to) {
        for (int ky = from; ky < to; ky++) {
            double factor = symbol[offset + ky] * scale;
            re[ky] *= factor;
            im[ky] *= factor;
        }
    }

    private void backward(int from, int to, int member) {
        double[][] re = stripRe[member];
        double[][] im = stripIm[member];
        for (int strip = from; strip < to; strip++) {
            int first = strip * stripX;
            int width = Math.min(stripX, pair - first);
            int rightWidth = Math.min(width, columns - pair - first);
            for (int x = 0; x < width; x += ABREAST) {
                layBack(right0, first + x, re, mirror, x);
                layBack(right1, first + x, im, mirror, x);
                layBack(left0, first + x, re, at, x);
                layBack(left1, first + x, im, at, x);
            }
            for (int ky = 0; ky < half; ky++) {
                for (int x = 0; at[ky] == mirror[ky] && x < width; x++) {
                    im[at[ky]][x] = right0[first + x][ky];
                }
            }
            for (int ky = 0; ky < half; ky++) {
                if (at[ky] != mirror[ky]) {
                    join(re[at[ky]], im[at[ky]], re[mirror[ky]], im[mirror[ky]], width);
                }
            }
            alongY.inverse(re, im, 0, width);
            for (int row = 0; row < rows; row++) {
                System.arraycopy(re[row], 0, output, row * columns + first, width);
                System.arraycopy(im[row], 0, output, row * columns + pair + first, rightWidth);
            }
        }
    }
}
