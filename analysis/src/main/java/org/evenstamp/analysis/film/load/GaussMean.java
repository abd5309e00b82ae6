package org.evenstamp.analysis.film.load;

import java.util.function.DoubleUnaryOperator;

/** Gauss's rule of three points, exact for polynomials up to the fifth degree. */
final class GaussMean {
    /** Where a function is asked, from the middle, in halves of the stretch: the root of 3/5. */
    static final double[] AT = {-0.7745966692414834, 0, 0.7745966692414834};

    static final double[] WEIGHT = {5 / 18.0, 8 / 18.0, 5 / 18.0};

    private GaussMean() {}

    /** Returns the mean of a function over a stretch. */
    static double of(DoubleUnaryOperator function, double from, double to) {
        double sum = 0;
        for (int g = 0; g < AT.length; g++) {
            sum += WEIGHT[g] * function.applyAsDouble((from + to) / 2 + AT[g] * (to - from) / 2);
        }
        return sum;
    }
}
