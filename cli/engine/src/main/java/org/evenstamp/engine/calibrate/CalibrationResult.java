package org.evenstamp.engine.calibrate;

import java.util.List;
import java.util.Map;
import org.evenstamp.analysis.statistics.Distribution;
import org.evenstamp.analysis.statistics.LeastSquaresFit;
import org.evenstamp.engine.job.Job;

/** What a fit to readings found. Immutable. */
public final class CalibrationResult {
    private final Job job;
    private final List<Value> values;
    private final double[][] correlations;
    private final List<ReadingFit> places;
    private final LeastSquaresFit.Result fit;
    private final double modelErrorSi;
    private final List<Untold> untold;
    private final List<NextPlace> next;
    private final int runs;

    CalibrationResult(
            Job job,
            List<Value> values,
            double[][] correlations,
            List<ReadingFit> places,
            LeastSquaresFit.Result fit,
            double modelErrorSi,
            List<Untold> untold,
            List<NextPlace> next,
            int runs) {
        this.job = job;
        this.values = List.copyOf(values);
        this.correlations = correlations;
        this.places = List.copyOf(places);
        this.fit = fit;
        this.modelErrorSi = modelErrorSi;
        this.untold = List.copyOf(untold);
        this.next = List.copyOf(next);
        this.runs = runs;
    }

    /**
     * A fitted value.
     *
     * @param key what was free
     * @param si its value, SI
     * @param error its standard error: of the logarithm where that is fitted, in SI otherwise
     */
    public record Value(FreeKey key, double si, double error) {
        /** Returns the factor within which 95 % lie, for a key that is fitted by its logarithm. */
        public double factor() {
            return Math.exp(Distribution.StandardNormal.TWO_SIDED_95 * error);
        }
    }

    /**
     * A combination of keys of which the readings told hardly more than was known beforehand.
     *
     * @param parts its larger parts, key by weight: of deviations of what was known beforehand
     * @param leftOver error that is left over the error before, above 0.9
     */
    public record Untold(Map<String, Double> parts, double leftOver) {}

    /** A place where a further reading would tell most, with the errors that the values would then have. */
    public static final class NextPlace {
        private final double xMetres;
        private final double yMetres;
        private final double[] errors;

        NextPlace(double xMetres, double yMetres, double[] errors) {
            this.xMetres = xMetres;
            this.yMetres = yMetres;
            this.errors = errors.clone();
        }

        /** Returns the place to the right, m. */
        public double xMetres() {
            return xMetres;
        }

        /** Returns the place upwards, m. */
        public double yMetres() {
            return yMetres;
        }

        /** Returns the error of a value after this reading and those before it, as {@link Value#error}. */
        public double error(int i) {
            return errors[i];
        }
    }

    /** Returns the job with the fitted values. */
    public Job job() {
        return job;
    }

    /** Returns the fitted values. */
    public List<Value> values() {
        return values;
    }

    /** Returns the correlation of two values. */
    public double correlation(int i, int j) {
        return correlations[i][j];
    }

    /** Returns how each place agrees. */
    public List<ReadingFit> places() {
        return places;
    }

    /** Returns the sum of squared differences over deviations. */
    public double chiSquare() {
        return fit.chiSquare();
    }

    /** Returns readings and priors less free keys. */
    public int freedom() {
        return fit.freedom();
    }

    /** Returns the chance of a chi-square at least this large if job and deviations are right. */
    public double probability() {
        return fit.probability();
    }

    /** Returns the root of the mean square of the differences to fits without the reading in question, SI. */
    public double leftOutSi() {
        return Math.sqrt(places.stream()
                .mapToDouble(place -> place.leftOutSi() * place.leftOutSi())
                .average()
                .orElse(0));
    }

    /**
     * Returns the deviation that was added to that of every reading because the job does not explain them better, SI; 0 where none
     * was asked for or none is needed.
     */
    public double modelErrorSi() {
        return modelErrorSi;
    }

    /** Returns what the places cannot tell. */
    public List<Untold> untold() {
        return untold;
    }

    /** Returns the places worth measuring next, the most telling first. */
    public List<NextPlace> next() {
        return next;
    }

    /** Returns how many runs the fit took. */
    public int runs() {
        return runs;
    }
}
