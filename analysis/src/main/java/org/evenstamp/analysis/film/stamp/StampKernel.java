package org.evenstamp.analysis.film.stamp;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.analysis.polynomials.PolynomialSplineFunction;
import org.apache.commons.math3.special.BesselJ;
import org.evenstamp.shared.grid.TileGrid;

/**
 * How the face of a stamp that is alone answers to pressure on one tile: the half-space under a uniformly pressed square
 * (A.E.H. Love, Phil. Trans. R. Soc. A 228 (1929) 377, quoted from memory), and a rest that is smooth on the scale of the
 * thickness, a numerical Hankel transform. The plate's is known up to a constant and a parabola.
 */
final class StampKernel {
    private static final double[] GAUSS_AT = {
        0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363
    };
    private static final double[] GAUSS_WEIGHT = {
        0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763
    };
    private static final int MOST_SAMPLES = 16; // of the smooth kernel along a tile

    private StampKernel() {}

    /** Returns the displacement at cyclic tile offsets under unit pressure on the tile at offset zero. */
    static double[] of(Stamp stamp, TileGrid grid, int columns, int rows) {
        double[] kernel = new double[columns * rows];
        double pitch = grid.pitchMetres();
        double reach = Math.hypot(grid.columns(), grid.rows()) * pitch;
        if (stamp instanceof Stamp.Rigid) {
            return kernel;
        }
        List<Stamp> parts =
                stamp instanceof Stamp.LayerOnPlate both ? List.of(both.layer(), both.plate()) : List.of(stamp);
        for (Stamp part : parts) {
            Smooth smooth = Smooth.of(part, pitch, reach);
            for (int row = 0; row <= Math.min(rows / 2, grid.rows()); row++) {
                for (int column = 0; column <= Math.min(columns / 2, grid.columns()); column++) {
                    double value = smooth.at(column * pitch, row * pitch, pitch);
                    add(kernel, columns, rows, column, row, value);
                }
            }
        }
        return kernel;
    }

    private static void add(double[] kernel, int columns, int rows, int column, int row, double value) {
        int left = (columns - column) % columns;
        int down = (rows - row) % rows;
        kernel[row * columns + column] += value;
        if (left != column) {
            kernel[row * columns + left] += value;
        }
        if (down != row) {
            kernel[down * columns + column] += value;
            if (left != column) {
                kernel[down * columns + left] += value;
            }
        }
    }

    /** The kernel of one body: the half-space of its stiffness, plus a smooth radial part. */
    private record Smooth(double planeStrainModulus, double scale, PolynomialSplineFunction radial) {
        static Smooth of(Stamp body, double pitch, double reach) {
            if (body instanceof Stamp.HalfSpace h) {
                double[] x = {0, reach / 2, 2 * reach};
                return new Smooth(
                        modulus(h.modulusPascal(), h.poisson()),
                        Double.POSITIVE_INFINITY,
                        new SplineInterpolator().interpolate(x, new double[3]));
            }
            if (body instanceof Stamp.Plate p) {
                return of(body, modulus(p.modulusPascal(), p.poisson()), p.thicknessMetres(), reach + pitch, true);
            }
            if (body instanceof Stamp.BondedLayer b) {
                return of(body, modulus(b.modulusPascal(), b.poisson()), b.thicknessMetres(), reach + pitch, false);
            }
            throw new IllegalArgumentException("no isolated kernel for " + body);
        }

        private static double modulus(double young, double poisson) {
            return young / (1 - poisson * poisson);
        }

        private static Smooth of(Stamp body, double modulus, double thickness, double end, boolean farReaching) {
            List<Double> radii = new ArrayList<>();
            double step = Math.min(thickness / 10, end / 64);
            for (double r = 0; r < end; r += Math.max(step, 0.04 * (r - 3 * thickness))) {
                radii.add(r);
            }
            radii.add(end);
            radii.add(end + Math.max(step, 0.04 * end));
            double[] x = radii.stream().mapToDouble(Double::doubleValue).toArray();
            double[] y = new double[x.length];
            for (int i = 0; i < x.length; i++) {
                y[i] = hankel(body, modulus, thickness, x[i], end, farReaching);
            }
            return new Smooth(modulus, thickness, new SplineInterpolator().interpolate(x, y));
        }

        /**
         * Returns {@code (1/2π) ∫ R(k) J0(kr) k dk}, R the compliance less the half-space's. The plate's R grows like
         * k⁻⁴; a constant and a parabola in r are taken off under the integral, which then converges.
         */
        private static double hankel(
                Stamp body, double modulus, double thickness, double r, double reach, boolean farReaching) {
            double end = 18 / thickness;
            double widest = Math.min(Math.PI / Math.max(r, 1e-300), end / 24);
            double from = farReaching ? 1e-3 / reach : 0;
            double sum = 0;
            double low = from;
            while (low < end) {
                double width = farReaching ? Math.min(widest, 0.3 * low) : widest;
                double high = Math.min(end, low + width);
                double mid = (low + high) / 2;
                double half = (high - low) / 2;
                for (int g = 0; g < GAUSS_AT.length; g++) {
                    for (int sign = -1; sign <= 1; sign += 2) {
                        double k = mid + sign * half * GAUSS_AT[g];
                        double x = k * r;
                        double wave = BesselJ.value(0, x);
                        if (farReaching) {
                            wave -= (1 - x * x / 4) * Math.exp(-Math.pow(k * reach, 4));
                        }
                        sum += half * GAUSS_WEIGHT[g] * (body.compliance(k) * k - 2 / modulus) * wave;
                    }
                }
                low = high;
            }
            return sum / (2 * Math.PI);
        }

        double at(double x, double y, double pitch) {
            double a = pitch / 2;
            double love = potential(x + a, y + a)
                    - potential(x - a, y + a)
                    - potential(x + a, y - a)
                    + potential(x - a, y - a);
            // The smooth part varies over the thickness: a wide tile needs its mean.
            boolean near = Math.hypot(x, y) < 6 * (pitch + scale);
            int samples = near ? (int) Math.min(MOST_SAMPLES, Math.max(1, Math.ceil(3 * pitch / scale))) : 1;
            double sum = 0;
            for (int s = 0; s < samples * samples; s++) {
                int sampleRow = s / samples;
                double dx = ((s % samples + 0.5) / samples - 0.5) * pitch;
                double dy = ((sampleRow + 0.5) / samples - 0.5) * pitch;
                sum += radial.value(Math.hypot(x + dx, y + dy));
            }
            return love / (Math.PI * planeStrainModulus) + pitch * pitch * sum / (samples * samples);
        }

        /** The double integral of 1/r from the axes. */
        private static double potential(double x, double y) {
            return (x == 0 ? 0 : x * asinh(y / Math.abs(x))) + (y == 0 ? 0 : y * asinh(x / Math.abs(y)));
        }

        private static double asinh(double s) {
            return Math.copySign(Math.log(Math.abs(s) + Math.hypot(1, s)), s);
        }
    }
}
