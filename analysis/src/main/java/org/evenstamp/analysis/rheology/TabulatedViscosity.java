package org.evenstamp.analysis.rheology;

import java.util.Arrays;
import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/**
 * Measured viscosities, interpolated in {@code log10(eta)} against temperature by monotone cubic pieces (Fritsch and
 * Carlson, SIAM J. Numer. Anal. 17 (1980) 238; harmonic-mean slopes of Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5
 * (1984) 300), so that nothing overshoots between two points. Beyond the table the curve goes on with its end slope, which
 * is outside its validity.
 */
public final class TabulatedViscosity implements ViscosityLaw {
    private final double[] kelvin;
    private final double[] log;
    private final double[] slope;
    private final double glassKelvin;

    /**
     * Builds it from at least two points.
     *
     * @param kelvin temperatures, rising
     * @param pascalSeconds viscosities, falling
     * @param glassKelvin glass temperature, not above the first point
     * @throws InputException when the table is not monotone, naming the first wrong pair of rows
     */
    public TabulatedViscosity(double[] kelvin, double[] pascalSeconds, double glassKelvin) {
        if (kelvin.length != pascalSeconds.length) {
            throw new IllegalArgumentException(
                    kelvin.length + " temperatures but " + pascalSeconds.length + " viscosities");
        }
        if (kelvin.length < 2) {
            throw new InputException(
                    "rheology.table-short", "", "a viscosity table has " + kelvin.length + " rows", "give at least 2");
        }
        for (int i = 0; i < kelvin.length; i++) {
            ViscosityLaw.requirePositive("the temperature in row " + (i + 1), kelvin[i], "K");
            ViscosityLaw.requirePositive("the viscosity in row " + (i + 1), pascalSeconds[i], "Pa s");
            if (i > 0 && !(kelvin[i] > kelvin[i - 1] && pascalSeconds[i] < pascalSeconds[i - 1])) {
                throw new InputException(
                        "rheology.table-not-monotone",
                        "row " + (i + 1),
                        String.format(
                                Locale.ROOT,
                                "%.6g Pa s at %s follows %.6g Pa s at %s",
                                pascalSeconds[i],
                                TemperatureRange.celsius(kelvin[i]),
                                pascalSeconds[i - 1],
                                TemperatureRange.celsius(kelvin[i - 1])),
                        "sort by rising temperature; the viscosity must fall from row to row");
            }
        }
        if (!(glassKelvin >= 0 && glassKelvin <= kelvin[0])) {
            throw new InputException(
                    "rheology.table-below-glass-temperature",
                    "row 1",
                    "the table starts at " + TemperatureRange.celsius(kelvin[0]) + ", below the glass temperature "
                            + TemperatureRange.celsius(glassKelvin),
                    "leave out the rows below the glass temperature");
        }
        this.kelvin = kelvin.clone();
        this.log = Arrays.stream(pascalSeconds).map(Math::log10).toArray();
        this.glassKelvin = glassKelvin;
        this.slope = slopes(this.kelvin, log);
    }

    private static double[] slopes(double[] x, double[] y) {
        int last = x.length - 1;
        double[] slope = new double[x.length];
        slope[0] = (y[1] - y[0]) / (x[1] - x[0]);
        slope[last] = (y[last] - y[last - 1]) / (x[last] - x[last - 1]);
        for (int i = 1; i < last; i++) {
            double left = x[i] - x[i - 1];
            double right = x[i + 1] - x[i];
            double leftWeight = 2 * right + left;
            double rightWeight = right + 2 * left;
            slope[i] = (leftWeight + rightWeight)
                    / (leftWeight * left / (y[i] - y[i - 1]) + rightWeight * right / (y[i + 1] - y[i]));
        }
        return slope;
    }

    @Override
    public double glassKelvin() {
        return glassKelvin;
    }

    @Override
    public TemperatureRange valid() {
        return new TemperatureRange(kelvin[0], kelvin[kelvin.length - 1]);
    }

    @Override
    public double pascalSeconds(double temperature) {
        ViscosityLaw.requireFlow(temperature, glassKelvin);
        return ViscosityLaw.requirePositive(
                "the extrapolated viscosity at " + temperature + " K", Math.pow(10, logAt(temperature)), "Pa s");
    }

    private double logAt(double x) {
        int last = kelvin.length - 1;
        if (x <= kelvin[0]) {
            return log[0] + slope[0] * (x - kelvin[0]);
        }
        if (x >= kelvin[last]) {
            return log[last] + slope[last] * (x - kelvin[last]);
        }
        int found = Arrays.binarySearch(kelvin, x);
        int i = found >= 0 ? found : -found - 2;
        double width = kelvin[i + 1] - kelvin[i];
        double t = (x - kelvin[i]) / width;
        double s = 1 - t;
        return log[i] * (1 + 2 * t) * s * s
                + log[i + 1] * (1 + 2 * s) * t * t
                + width * t * s * (slope[i] * s - slope[i + 1] * t);
    }
}
