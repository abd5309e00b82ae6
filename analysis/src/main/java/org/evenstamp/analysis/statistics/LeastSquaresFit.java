package org.evenstamp.analysis.statistics;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.exception.TooManyEvaluationsException;
import org.apache.commons.math3.exception.TooManyIterationsException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresOptimizer;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.fitting.leastsquares.ValueAndJacobianFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.DiagonalMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.util.Pair;
import org.evenstamp.shared.problem.InputException;

/**
 * The values of free numbers with which a model fits measurements best: weighted least squares with optional priors, by
 * Levenberg and Marquardt's method of Apache Commons Math. A prior counts as one more measurement of its number.
 *
 * <p>Checked against the certified values of the NIST Statistical Reference Datasets for nonlinear regression.
 */
public final class LeastSquaresFit {
    private static final int MOST_STEPS = 2000;

    private LeastSquaresFit() {}

    /** What is fitted. */
    public interface Model {
        /** Returns the prediction of every measurement. */
        double[] predictions(double[] values);

        /** Returns the slopes of the predictions, one row a measurement, one column a free number; good enough for a step. */
        double[][] slopes(double[] values);

        /** Returns the slopes from which the errors of the values follow. */
        default double[][] slopesAtTheEnd(double[] values) {
            return slopes(values);
        }
    }

    /**
     * A free number.
     *
     * @param name for messages
     * @param start where to begin, within the bounds
     * @param least lower bound
     * @param most upper bound
     * @param prior what is known of it beforehand: its deviation around {@code start}; infinite when nothing is known
     */
    public record Free(String name, double start, double least, double most, double prior) {
        /** Refuses a start outside the bounds and a prior that is not positive. */
        public Free {
            if (!(start >= least && start <= most) || !(prior > 0)) {
                throw new IllegalArgumentException(name + " starts at " + start + ", outside " + least + " to " + most
                        + ", or has the prior deviation " + prior);
            }
        }

        /** Returns a number of which nothing is known. */
        public static Free unbounded(String name, double start) {
            return new Free(name, start, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);
        }
    }

    /** What came of it. Immutable. */
    public static final class Result {
        private final double[] values;
        private final double[][] covariance;
        private final double[] residuals;
        private final double chiSquare;
        private final int freedom;
        private final int steps;

        private Result(
                double[] values, double[][] covariance, double[] residuals, double chiSquare, int freedom, int steps) {
            this.values = values;
            this.covariance = covariance;
            this.residuals = residuals;
            this.chiSquare = chiSquare;
            this.freedom = freedom;
            this.steps = steps;
        }

        /** Returns the best value of a free number. */
        public double value(int i) {
            return values[i];
        }

        /** Returns the best values. */
        public double[] values() {
            return values.clone();
        }

        /** Returns measurement less prediction, one a measurement, in its unit. */
        public double[] residuals() {
            return residuals.clone();
        }

        /** Returns the covariance of two values, from slopes, deviations and priors. */
        public double covariance(int i, int j) {
            return covariance[i][j];
        }

        /** Returns the sum of squared residuals over deviations, priors left out. */
        public double chiSquare() {
            return chiSquare;
        }

        /** Returns measurements and priors less free numbers. */
        public int freedom() {
            return freedom;
        }

        /** Returns the number of steps taken. */
        public int steps() {
            return steps;
        }

        /** Returns the standard error of a value. */
        public double error(int i) {
            return Math.sqrt(covariance[i][i]);
        }

        /** Returns the correlation of two values. */
        public double correlation(int i, int j) {
            return i == j ? 1 : covariance[i][j] / (error(i) * error(j));
        }

        /** Returns the chance of a chi-square at least this large if the model and the deviations hold. */
        public double probability() {
            return freedom < 1 ? 1 : 1 - new ChiSquaredDistribution(null, freedom).cumulativeProbability(chiSquare);
        }

        /** Returns the eigenvalues and eigenvectors (columns) of the correlation matrix, the largest first. */
        public EigenDecomposition directions() {
            int n = values.length;
            RealMatrix correlations = new Array2DRowRealMatrix(n, n);
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    correlations.setEntry(i, j, correlation(i, j));
                }
            }
            return new EigenDecomposition(correlations);
        }
    }

    /**
     * Fits.
     *
     * @param model what predicts the measurements
     * @param measured the measurements
     * @param deviations their standard deviations, above 0
     * @param free the free numbers
     * @param tolerance relative change of the sum of squares, and of the values, below which a fit has settled; slopes that are
     *     only known to a part of it do not matter
     * @throws InputException when measurements and priors together are fewer than the free numbers, or tell nothing about a
     *     combination of them
     */
    public static Result fit(Model model, double[] measured, double[] deviations, List<Free> free, double tolerance) {
        return fit(
                model,
                measured,
                deviations,
                free,
                free.stream().mapToDouble(Free::start).toArray(),
                tolerance);
    }

    /**
     * Fits, from other values than those around which the priors lie.
     *
     * @param begin the values to begin with, within the bounds
     */
    public static Result fit(
            Model model, double[] measured, double[] deviations, List<Free> free, double[] begin, double tolerance) {
        int m = measured.length;
        int n = free.size();
        int priors = (int) free.stream().filter(LeastSquaresFit::isKnown).count();
        if (m + priors < n) {
            throw new InputException(
                    "fit.too-few",
                    "",
                    m + " measurements and " + priors + " priors do not determine " + n + " free values",
                    "measure at more places, or free fewer values");
        }
        int rows = m + priors;
        double[] target = new double[rows];
        double[] weight = new double[rows];
        for (int i = 0; i < m; i++) {
            target[i] = measured[i];
            weight[i] = 1 / (deviations[i] * deviations[i]);
        }
        int row = m;
        for (Free one : free) {
            if (isKnown(one)) {
                target[row] = one.start();
                weight[row++] = 1 / (one.prior() * one.prior());
            }
        }
        LeastSquaresBuilder problem = new LeastSquaresBuilder()
                .start(begin)
                .target(target)
                .weight(new DiagonalMatrix(weight))
                .model(new WithPriors(model, free, rows))
                .parameterValidator(point -> within(free, point))
                .lazyEvaluation(true)
                .maxEvaluations(10 * MOST_STEPS)
                .maxIterations(MOST_STEPS);
        LeastSquaresOptimizer optimizer = new LevenbergMarquardtOptimizer()
                .withCostRelativeTolerance(tolerance)
                .withParameterRelativeTolerance(tolerance)
                .withOrthoTolerance(tolerance);
        double[] best;
        int steps;
        try {
            LeastSquaresOptimizer.Optimum optimum = optimizer.optimize(problem.build());
            best = optimum.getPoint().toArray();
            steps = optimum.getIterations();
        } catch (TooManyEvaluationsException | TooManyIterationsException e) {
            throw new InputException(
                    "fit.unsettled",
                    "",
                    "the fit does not settle within " + MOST_STEPS + " steps",
                    "start closer to the values, or free fewer of them");
        }
        return result(model, free, measured, deviations, best, steps);
    }

    private static boolean isKnown(Free one) {
        return !Double.isInfinite(one.prior());
    }

    private static RealVector within(List<Free> free, RealVector point) {
        RealVector inside = point.copy();
        for (int i = 0; i < free.size(); i++) {
            inside.setEntry(
                    i, Math.max(free.get(i).least(), Math.min(free.get(i).most(), point.getEntry(i))));
        }
        return inside;
    }

    /** The model and, as more measurements, the priors. Slopes are asked for only where a step is taken from. */
    private record WithPriors(Model model, List<Free> free, int rows) implements ValueAndJacobianFunction {
        @Override
        public RealVector computeValue(double[] values) {
            double[] predictions = model.predictions(values);
            double[] all = Arrays.copyOf(predictions, rows);
            int row = predictions.length;
            for (int k = 0; k < free.size(); k++) {
                if (isKnown(free.get(k))) {
                    all[row++] = values[k];
                }
            }
            return new ArrayRealVector(all, false);
        }

        @Override
        public RealMatrix computeJacobian(double[] values) {
            double[][] slopes = model.slopes(values);
            double[][] all = Arrays.copyOf(slopes, rows);
            int row = slopes.length;
            for (int k = 0; k < free.size(); k++) {
                if (isKnown(free.get(k))) {
                    all[row] = new double[free.size()];
                    all[row++][k] = 1;
                }
            }
            return new Array2DRowRealMatrix(all, false);
        }

        @Override
        public Pair<RealVector, RealMatrix> value(RealVector point) {
            double[] values = point.toArray();
            return new Pair<>(computeValue(values), computeJacobian(values));
        }
    }

    private static Result result(
            Model model, List<Free> free, double[] measured, double[] deviations, double[] best, int steps) {
        int n = free.size();
        double[] predictions = model.predictions(best);
        double[][] slopes = model.slopesAtTheEnd(best);
        double[][] normal = new double[n][n];
        double[] residuals = new double[measured.length];
        double chiSquare = 0;
        for (int i = 0; i < measured.length; i++) {
            residuals[i] = measured[i] - predictions[i];
            double weight = 1 / (deviations[i] * deviations[i]);
            chiSquare += residuals[i] * residuals[i] * weight;
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    normal[j][k] += slopes[i][j] * slopes[i][k] * weight;
                }
            }
        }
        int priors = 0;
        for (int k = 0; k < n; k++) {
            if (isKnown(free.get(k))) {
                normal[k][k] += 1 / (free.get(k).prior() * free.get(k).prior());
                priors++;
            }
        }
        return new Result(best, inverse(normal), residuals, chiSquare, measured.length + priors - n, steps);
    }

    /** Inverts a symmetric matrix, scaled to ones on its diagonal so that units do not matter. */
    private static double[][] inverse(double[][] normal) {
        int n = normal.length;
        double[] scale = new double[n];
        RealMatrix scaled = new Array2DRowRealMatrix(n, n);
        for (int i = 0; i < n; i++) {
            scale[i] = Math.sqrt(normal[i][i]);
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                scaled.setEntry(i, j, normal[i][j] / (scale[i] * scale[j]));
            }
        }
        EigenDecomposition parts = finite(scale) ? new EigenDecomposition(scaled) : null;
        if (parts == null || !(parts.getRealEigenvalue(n - 1) > 1e-13)) {
            throw new InputException(
                    "fit.undetermined",
                    "",
                    "the measurements tell nothing about one combination of the free values",
                    "give a prior, free fewer values, or measure elsewhere");
        }
        double[][] inverse = parts.getSolver().getInverse().getData();
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                inverse[i][j] /= scale[i] * scale[j];
            }
        }
        return inverse;
    }

    private static boolean finite(double[] scale) {
        for (double value : scale) {
            if (!(value > 0) || Double.isInfinite(value)) {
                return false;
            }
        }
        return true;
    }
}
