package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.evenstamp.analysis.statistics.LeastSquaresFit;

/**
 * What readings cannot tell: with each key measured in deviations of what is known of it beforehand, the directions in which the
 * readings leave that knowledge about as it was. A key of which nothing was known counts as told.
 */
final class Directions {
    private static final double UNTOLD = 0.9;
    private static final double SMALL = 0.3;

    /** What stands in for the missing prior of a key, over its error. */
    private static final double VAGUE = 100;

    private Directions() {}

    static List<CalibrationResult.Untold> of(
            List<FreeKey> free, Readings readings, double[][] slopes, LeastSquaresFit.Result fit) {
        int keys = free.size();
        double[] prior = new double[keys];
        for (int k = 0; k < keys; k++) {
            prior[k] = Double.isInfinite(free.get(k).prior())
                    ? VAGUE * fit.error(k)
                    : free.get(k).prior();
        }
        double[][] told = new double[keys][keys];
        for (int i = 0; i < slopes.length; i++) {
            double deviation = readings.readings().get(i).deviationSi();
            for (int j = 0; j < keys; j++) {
                for (int k = 0; k < keys; k++) {
                    told[j][k] += slopes[i][j] * prior[j] * slopes[i][k] * prior[k] / (deviation * deviation);
                }
            }
        }
        EigenDecomposition parts = new EigenDecomposition(new Array2DRowRealMatrix(told, false));
        List<CalibrationResult.Untold> untold = new ArrayList<>();
        for (int d = 0; d < keys; d++) {
            double leftOver = 1 / Math.sqrt(1 + Math.max(0, parts.getRealEigenvalue(d)));
            if (leftOver > UNTOLD) {
                Map<String, Double> weights = new LinkedHashMap<>();
                for (int k = 0; k < keys; k++) {
                    double weight = parts.getEigenvector(d).getEntry(k);
                    if (Math.abs(weight) > SMALL) {
                        weights.put(free.get(k).key(), weight);
                    }
                }
                untold.add(new CalibrationResult.Untold(weights, leftOver));
            }
        }
        return untold;
    }
}
