package org.evenstamp.engine.calibrate;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.statistics.LeastSquaresFit;

/**
 * How one place agrees with the fit.
 *
 * @param reading what was measured
 * @param beforeSi what the job said before
 * @param afterSi what the fitted job says
 * @param leverage share of the fit at this place that the reading itself decides, from 0 to 1
 * @param studentised difference over the deviation it should have; beyond 3 the place does not fit
 * @param leftOutSi difference between the reading and a fit without it, by the slopes
 */
public record ReadingFit(
        Readings.Reading reading,
        double beforeSi,
        double afterSi,
        double leverage,
        double studentised,
        double leftOutSi) {

    static List<ReadingFit> of(
            Readings readings, double[] before, double[] after, double[][] slopes, LeastSquaresFit.Result fit) {
        List<ReadingFit> places = new ArrayList<>();
        int keys = slopes[0].length;
        for (int i = 0; i < after.length; i++) {
            Readings.Reading reading = readings.readings().get(i);
            double variance = 0;
            for (int j = 0; j < keys; j++) {
                for (int k = 0; k < keys; k++) {
                    variance += slopes[i][j] * fit.covariance(j, k) * slopes[i][k];
                }
            }
            double own = reading.deviationSi() * reading.deviationSi();
            double leverage = Math.min(1, variance / own);
            double difference = reading.valueSi() - after[i];
            double rest = Math.max(1 - leverage, 1e-9);
            places.add(new ReadingFit(
                    reading,
                    before[i],
                    after[i],
                    leverage,
                    difference / (reading.deviationSi() * Math.sqrt(rest)),
                    difference / rest));
        }
        return places;
    }
}
