package org.evenstamp.analysis.statistics;

import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.NonPositiveDefiniteMatrixException;
import org.apache.commons.math3.linear.NonSymmetricMatrixException;
import org.jspecify.annotations.Nullable;

/**
 * Several numbers that are not known exactly, and how they go together: each has its own distribution, and the normal scores
 * behind them have the given correlations (a Gaussian copula). The correlation of the numbers themselves is close to that of
 * their scores where the distributions are close to normal or log-normal.
 */
public final class JointDistribution {
    private final List<Distribution> distributions;
    private final double @Nullable [][] lower;

    private JointDistribution(List<Distribution> distributions, double @Nullable [][] lower) {
        this.distributions = List.copyOf(distributions);
        this.lower = lower;
    }

    /** Returns numbers that have nothing to do with each other. */
    public static JointDistribution independent(List<Distribution> distributions) {
        return new JointDistribution(distributions, null);
    }

    /**
     * Returns numbers that go together.
     *
     * @param correlations symmetric, ones on the diagonal, positive definite
     * @throws IllegalArgumentException when it is not
     */
    public static JointDistribution correlated(List<Distribution> distributions, double[][] correlations) {
        int n = distributions.size();
        if (correlations.length != n) {
            throw new IllegalArgumentException(
                    "correlations of " + correlations.length + " numbers were given for " + n);
        }
        for (int i = 0; i < n; i++) {
            if (correlations[i].length != n || correlations[i][i] != 1) {
                throw new IllegalArgumentException(
                        "row " + (i + 1) + " of the correlations is not of length " + n + " with a 1 on the diagonal");
            }
        }
        try {
            CholeskyDecomposition factor =
                    new CholeskyDecomposition(new Array2DRowRealMatrix(correlations), 1e-12, 1e-10);
            return new JointDistribution(distributions, factor.getL().getData());
        } catch (NonSymmetricMatrixException | NonPositiveDefiniteMatrixException e) {
            throw new IllegalArgumentException(
                    "no numbers go together like this: the correlations are not a positive definite matrix", e);
        }
    }

    /** Returns how many numbers there are. */
    public int size() {
        return distributions.size();
    }

    /** Returns the values at a point of the unit cube, one coordinate a number. */
    public double[] values(double[] point) {
        double[] values = new double[size()];
        double[] scores = new double[size()];
        for (int i = 0; i < values.length; i++) {
            if (lower == null) {
                values[i] = distributions.get(i).quantile(point[i]);
            } else {
                scores[i] = Distribution.StandardNormal.quantile(point[i]);
                double score = 0;
                for (int j = 0; j <= i; j++) {
                    score += lower[i][j] * scores[j];
                }
                values[i] = distributions.get(i).quantile(inside(Distribution.StandardNormal.share(score)));
            }
        }
        return values;
    }

    private static double inside(double share) {
        return Math.min(Math.max(share, 0x1p-53), 1 - 0x1p-53);
    }
}
