package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.process.ProcessHistory;

/**
 * Fluidity of a film that lives through one process everywhere, but at its own time in each place: since the press came there. Before
 * that it is what it is as the press comes.
 */
final class PassingFluidity {
    private static final double INSTANT = 1e-9; // share of the time averaged over that is rounding

    private final ProcessHistory place;
    private final double[] nodes;
    private final double end;

    /**
     * Takes the process of a place.
     *
     * @param cuts its times between which the viscosity changes little, with its corners
     */
    PassingFluidity(ProcessHistory place, double[] cuts) {
        this.place = place;
        end = place.flowEndSeconds();
        nodes = DoubleStream.concat(DoubleStream.of(0, end), Arrays.stream(cuts))
                .filter(t -> t >= 0 && t <= end)
                .sorted()
                .distinct()
                .toArray();
    }

    private double at(double since) {
        return since >= end ? 0 : place.fluidity(Math.max(since, place.flowStartSeconds()));
    }

    /**
     * Returns the mean over places that the press reaches evenly between two times, and over a time, 1/(Pa s).
     *
     * @param firstEntry when the press comes to the first of the places, s
     * @param lastEntry when it comes to the last, s, later
     * @param from start of the time averaged over, s
     * @param to its end, s, or the same
     */
    double mean(double firstEntry, double lastEntry, double from, double to) {
        double first = from - lastEntry;
        double last = to - firstEntry;
        if (first >= end - INSTANT * (last - first)) {
            return 0;
        }
        // So much of places and times is as long since the press came: a trapezium between these corners.
        double rise = Math.min(to - lastEntry, from - firstEntry);
        double fall = Math.max(to - lastEntry, from - firstEntry);
        double[] corners = DoubleStream.concat(DoubleStream.of(first, rise, fall, last), Arrays.stream(nodes))
                .filter(t -> t >= first && t <= last)
                .sorted()
                .toArray();
        double sum = 0;
        double weights = 0;
        for (int n = 0; n + 1 < corners.length; n++) {
            double length = corners[n + 1] - corners[n];
            double middle = (corners[n] + corners[n + 1]) / 2;
            for (int g = 0; g < GaussMean.AT.length; g++) {
                double since = middle + GaussMean.AT[g] * length / 2;
                double weight = GaussMean.WEIGHT[g] * length * share(since, first, rise, fall, last);
                sum += weight * at(since);
                weights += weight;
            }
        }
        return sum / weights;
    }

    private static double share(double since, double first, double rise, double fall, double last) {
        if (since < rise) {
            return (since - first) / (rise - first);
        }
        return since > fall ? (last - since) / (last - fall) : 1;
    }
}
