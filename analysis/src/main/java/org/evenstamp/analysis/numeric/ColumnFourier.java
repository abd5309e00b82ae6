package org.evenstamp.analysis.numeric;

import java.util.Arrays;

/**
 * Fourier transforms of many columns of complex numbers side by side, in place.
 *
 * <p>Element r of all columns is row r: an array of real parts and one of imaginary parts. Every step of a transform runs
 * along rows, in loops of a few sums that the compiler turns into vector code. Radix 4 (as two rounds of radix 2 while the
 * rows are in the cache), then 2, 3 and 5; decimation in frequency forward and in time back, so that nothing is sorted: the
 * spectrum lies in the order {@link #positions} tells (J.W. Cooley and J.W. Tukey, Math. Comp. 19 (1965) 297; W.M.
 * Gentleman and G. Sande, Proc. AFIPS 29 (1966) 563, both quoted from memory).
 */
final class ColumnFourier {
    private static final int[] RADICES = {4, 2, 3, 5};
    // Factor on the angles of the forward transform, which are those of exp(-2πi k r/length).
    private static final int FORWARD = 1;
    private static final int INVERSE = -1;

    private final int length;
    private final int[] radices;
    private final double[][] cosines; // of each round, radix - 1 for each row of a block
    private final double[][] sines;
    private final int[] positions;

    /** Plans transforms of columns of this length, which {@link #serves} must hold for. */
    ColumnFourier(int length) {
        this.length = length;
        radices = radices(length);
        cosines = new double[radices.length][];
        sines = new double[radices.length][];
        int span = length;
        for (int round = 0; round < radices.length; round++) {
            int others = radices[round] - 1;
            int step = span / radices[round];
            cosines[round] = new double[step * others];
            sines[round] = new double[step * others];
            for (int j = 0; j < step; j++) {
                for (int q = 1; q <= others; q++) {
                    double angle = -2 * Math.PI * ((long) j * q % span) / span;
                    cosines[round][j * others + q - 1] = Math.cos(angle);
                    sines[round][j * others + q - 1] = Math.sin(angle);
                }
            }
            span = step;
        }
        positions = new int[length];
        for (int k = 0; k < length; k++) {
            positions[k] = position(k);
        }
    }

    private int position(int wavenumber) {
        int rest = wavenumber;
        int block = length;
        int position = 0;
        for (int radix : radices) {
            block /= radix;
            int q = rest % radix;
            // Two rounds of radix 2 leave the second and third part of four swapped.
            position += block * (radix == 4 && (q == 1 || q == 2) ? 3 - q : q);
            rest /= radix;
        }
        return position;
    }

    /** Returns whether columns of this length can be transformed: no prime factor above 5. */
    static boolean serves(int length) {
        return Arrays.stream(radices(length)).reduce(1, (a, b) -> a * b) == length;
    }

    private static int[] radices(int length) {
        int[] found = new int[32];
        int count = 0;
        int rest = length;
        for (int radix : RADICES) {
            while (rest % radix == 0 && rest > 1) {
                found[count++] = radix;
                rest /= radix;
            }
        }
        return Arrays.copyOf(found, count);
    }

    /** Returns the row in which each wavenumber number lies between {@link #forward} and {@link #inverse}. */
    int[] positions() {
        return positions;
    }

    /** Transforms the columns {@code from .. to - 1} without a factor: {@code X[k] = Σ x[r] exp(-2πi k r / length)}. */
    void forward(double[][] re, double[][] im, int from, int to) {
        int span = length;
        for (int round = 0; round < radices.length; round++) {
            int radix = radices[round];
            int step = span / radix;
            double[] c = cosines[round];
            double[] s = sines[round];
            for (int block = 0; block < length; block += span) {
                for (int j = 0; j < step; j++) {
                    int a = block + j;
                    switch (radix) {
                        case 4 -> {
                            int b = a + step;
                            int d = a + 2 * step;
                            int e = a + 3 * step;
                            int t = 3 * j;
                            add(re[a], im[a], re[d], im[d], from, to);
                            add(re[b], im[b], re[e], im[e], from, to);
                            if (j == 0) {
                                add(re[a], im[a], re[b], im[b], from, to);
                                addTurned(re[d], im[d], re[e], im[e], from, to);
                            } else {
                                addThenTurn(re[a], im[a], re[b], im[b], c[t + 1], s[t + 1], from, to);
                                double[] rd = re[d];
                                double[] id = im[d];
                                addTurnedThenTurn(rd, id, re[e], im[e], c[t], s[t], c[t + 2], s[t + 2], from, to);
                            }
                        }
                        case 2 -> addThenTurn(re[a], im[a], re[a + step], im[a + step], c[j], s[j], from, to);
                        default -> {
                            odd(re, im, a, step, radix, FORWARD, from, to);
                            turn(re, im, a, step, radix, c, s, j, FORWARD, from, to);
                        }
                    }
                }
            }
            span = step;
        }
    }

    /** Transforms back without a factor, {@code Σ X[k] exp(2πi k r / length)}: after {@link #forward} that is the length times x. */
    void inverse(double[][] re, double[][] im, int from, int to) {
        int step = 1;
        for (int round = radices.length - 1; round >= 0; round--) {
            int radix = radices[round];
            int span = step * radix;
            double[] c = cosines[round];
            double[] s = sines[round];
            for (int block = 0; block < length; block += span) {
                for (int j = 0; j < step; j++) {
                    int a = block + j;
                    switch (radix) {
                        case 4 -> {
                            int b = a + step;
                            int d = a + 2 * step;
                            int e = a + 3 * step;
                            int t = 3 * j;
                            if (j == 0) {
                                add(re[a], im[a], re[b], im[b], from, to);
                                addThenTurnBack(re[d], im[d], re[e], im[e], from, to);
                            } else {
                                turnThenAdd(re[a], im[a], re[b], im[b], c[t + 1], s[t + 1], from, to);
                                double[] rd = re[d];
                                double[] id = im[d];
                                turnThenAddBack(rd, id, re[e], im[e], c[t], s[t], c[t + 2], s[t + 2], from, to);
                            }
                            add(re[a], im[a], re[d], im[d], from, to);
                            add(re[b], im[b], re[e], im[e], from, to);
                        }
                        case 2 -> turnThenAdd(re[a], im[a], re[a + step], im[a + step], c[j], s[j], from, to);
                        default -> {
                            turn(re, im, a, step, radix, c, s, j, INVERSE, from, to);
                            odd(re, im, a, step, radix, INVERSE, from, to);
                        }
                    }
                }
            }
            step = span;
        }
    }

    // Each loop below reads all it needs before it writes: otherwise the compiler must assume that two rows are one
    // array.

    /** (x, y) becomes (x + y, x - y). */
    private static void add(double[] rx, double[] ix, double[] ry, double[] iy, int from, int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            rx[n] = ar + br;
            ry[n] = ar - br;
            ix[n] = ai + bi;
            iy[n] = ai - bi;
        }
    }

    /** (x, y) becomes (x - iy, x + iy). */
    private static void addTurned(double[] rx, double[] ix, double[] ry, double[] iy, int from, int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            rx[n] = ar + bi;
            ry[n] = ar - bi;
            ix[n] = ai - br;
            iy[n] = ai + br;
        }
    }

    /** (x, y) becomes (x + y, i(x - y)). */
    private static void addThenTurnBack(double[] rx, double[] ix, double[] ry, double[] iy, int from, int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            rx[n] = ar + br;
            ry[n] = bi - ai;
            ix[n] = ai + bi;
            iy[n] = ar - br;
        }
    }

    /** (x, y) becomes (x + y, w(x - y)), w = c + is. */
    private static void addThenTurn(
            double[] rx, double[] ix, double[] ry, double[] iy, double c, double s, int from, int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            double dr = ar - br;
            double di = ai - bi;
            rx[n] = ar + br;
            ix[n] = ai + bi;
            ry[n] = dr * c - di * s;
            iy[n] = dr * s + di * c;
        }
    }

    /** (x, y) becomes (v(x - iy), w(x + iy)), v = c + is and w = e + if. */
    private static void addTurnedThenTurn(
            double[] rx,
            double[] ix,
            double[] ry,
            double[] iy,
            double c,
            double s,
            double e,
            double f,
            int from,
            int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            double ur = ar + bi;
            double ui = ai - br;
            double vr = ar - bi;
            double vi = ai + br;
            rx[n] = ur * c - ui * s;
            ix[n] = ur * s + ui * c;
            ry[n] = vr * e - vi * f;
            iy[n] = vr * f + vi * e;
        }
    }

    /** (x, y) becomes (x + w*y, x - w*y), w* = c - is. */
    private static void turnThenAdd(
            double[] rx, double[] ix, double[] ry, double[] iy, double c, double s, int from, int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            double ur = br * c + bi * s;
            double ui = bi * c - br * s;
            rx[n] = ar + ur;
            ix[n] = ai + ui;
            ry[n] = ar - ur;
            iy[n] = ai - ui;
        }
    }

    /** (x, y) becomes (v*x + w*y, i(v*x - w*y)), v* = c - is and w* = e - if. */
    private static void turnThenAddBack(
            double[] rx,
            double[] ix,
            double[] ry,
            double[] iy,
            double c,
            double s,
            double e,
            double f,
            int from,
            int to) {
        for (int n = from; n < to; n++) {
            double ar = rx[n];
            double br = ry[n];
            double ai = ix[n];
            double bi = iy[n];
            double ur = ar * c + ai * s;
            double ui = ai * c - ar * s;
            double vr = br * e + bi * f;
            double vi = bi * e - br * f;
            rx[n] = ur + vr;
            ix[n] = ui + vi;
            ry[n] = vi - ui;
            iy[n] = ur - vr;
        }
    }

    /** Three or five rows become their transform; the sign is {@link #FORWARD} or {@link #INVERSE}. */
    private static void odd(double[][] re, double[][] im, int first, int step, int radix, int sign, int from, int to) {
        int b = first + step;
        int last = first + (radix - 1) * step;
        double once = 2 * Math.PI / radix;
        add(re[b], im[b], re[last], im[last], from, to);
        if (radix == 3) {
            sums(re[first], re[b], Math.cos(once), from, to);
            sums(im[first], im[b], Math.cos(once), from, to);
            stretch(re[last], sign * Math.sin(once), from, to);
            stretch(im[last], sign * Math.sin(once), from, to);
        } else {
            int d = first + 2 * step;
            int e = first + 3 * step;
            add(re[d], im[d], re[e], im[e], from, to);
            sums(re[first], re[b], re[d], Math.cos(once), Math.cos(2 * once), from, to);
            sums(im[first], im[b], im[d], Math.cos(once), Math.cos(2 * once), from, to);
            mix(re[last], re[e], sign * Math.sin(once), sign * Math.sin(2 * once), from, to);
            mix(im[last], im[e], sign * Math.sin(once), sign * Math.sin(2 * once), from, to);
            addTurned(re[d], im[d], re[e], im[e], from, to);
        }
        addTurned(re[b], im[b], re[last], im[last], from, to);
    }

    /** (x, y) becomes (x + y, x + cy). */
    private static void sums(double[] x, double[] y, double c, int from, int to) {
        for (int n = from; n < to; n++) {
            double a = x[n];
            double b = y[n];
            x[n] = a + b;
            y[n] = a + c * b;
        }
    }

    /** (x, y, z) becomes (x + y + z, x + cy + dz, x + dy + cz). */
    private static void sums(double[] x, double[] y, double[] z, double c, double d, int from, int to) {
        for (int n = from; n < to; n++) {
            double a = x[n];
            double b = y[n];
            double e = z[n];
            x[n] = a + b + e;
            y[n] = a + c * b + d * e;
            z[n] = a + d * b + c * e;
        }
    }

    /** (x, y) becomes (sx + ty, tx - sy). */
    private static void mix(double[] x, double[] y, double s, double t, int from, int to) {
        for (int n = from; n < to; n++) {
            double a = x[n];
            double b = y[n];
            x[n] = s * a + t * b;
            y[n] = t * a - s * b;
        }
    }

    private static void stretch(double[] x, double s, int from, int to) {
        for (int n = from; n < to; n++) {
            x[n] *= s;
        }
    }

    /** Turns the rows of a block but its first by their roots of unity, or back. */
    private static void turn(
            double[][] re,
            double[][] im,
            int first,
            int step,
            int radix,
            double[] cosines,
            double[] sines,
            int j,
            int sign,
            int from,
            int to) {
        if (j == 0) {
            return;
        }
        for (int q = 1; q < radix; q++) {
            double c = cosines[j * (radix - 1) + q - 1];
            double s = sign * sines[j * (radix - 1) + q - 1];
            double[] r = re[first + q * step];
            double[] i = im[first + q * step];
            for (int n = from; n < to; n++) {
                double a = r[n];
                double b = i[n];
                r[n] = a * c - b * s;
                i[n] = a * s + b * c;
            }
        }
    }
}
