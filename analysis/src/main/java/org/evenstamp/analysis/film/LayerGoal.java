package org.evenstamp.analysis.film;

import java.util.Arrays;

/**
 * A number made of the residual layer of some tiles, and how it goes with each of them.
 *
 * <p>Largest and smallest value are smooth where derivatives are taken: means in which a tile counts {@code exp(±h/τ)}, τ the
 * range of the layer over {@value #SHARPNESS}, so that the few tiles next to the extreme share in it and none takes over at a
 * kink.
 */
public final class LayerGoal {
    private static final double SHARPNESS = 50;

    /** Which number. */
    public enum Measure {
        /** The mean, each tile by its weight. */
        MEAN("mean"),
        /** Three standard deviations, likewise. */
        SIGMA3("3 sigma"),
        /** The smallest value. */
        LEAST("smallest"),
        /** The largest value. */
        MOST("largest"),
        /** Largest less smallest value. */
        SPREAD("spread");

        private final String words;

        Measure(String words) {
            this.words = words;
        }

        /** Returns what people call it. */
        public String words() {
            return words;
        }
    }

    private final Measure measure;
    private final double[] weights;

    /**
     * Makes a goal.
     *
     * @param weights how much each tile counts, 0 and more, some above 0; for the smallest and largest value whether it does
     */
    public LayerGoal(Measure measure, double[] weights) {
        if (Arrays.stream(weights).noneMatch(w -> w > 0)) {
            throw new IllegalArgumentException("a goal on no tile");
        }
        this.measure = measure;
        this.weights = weights.clone();
    }

    /** Returns which number it is. */
    public Measure measure() {
        return measure;
    }

    /** Returns how much a tile counts. */
    public double weight(int tile) {
        return weights[tile];
    }

    /** Returns the number, in m. */
    public double value(double[] layer) {
        return switch (measure) {
            case MEAN -> mean(layer);
            case SIGMA3 -> 3 * deviation(layer, mean(layer));
            case LEAST -> extreme(layer, -1);
            case MOST -> extreme(layer, 1);
            case SPREAD -> extreme(layer, 1) - extreme(layer, -1);
        };
    }

    /** Returns the derivatives by the layer of each tile. */
    public double[] slopes(double[] layer) {
        return switch (measure) {
            case MEAN -> {
                double sum = Arrays.stream(weights).sum();
                yield Arrays.stream(weights).map(w -> w / sum).toArray();
            }
            case SIGMA3 -> ofSigma3(layer);
            case LEAST -> ofExtreme(layer, -1);
            case MOST -> ofExtreme(layer, 1);
            case SPREAD -> {
                double[] slopes = ofExtreme(layer, 1);
                double[] least = ofExtreme(layer, -1);
                Arrays.setAll(slopes, i -> slopes[i] - least[i]);
                yield slopes;
            }
        };
    }

    private double mean(double[] layer) {
        double sum = 0;
        double all = 0;
        for (int i = 0; i < layer.length; i++) {
            sum += weights[i] * layer[i];
            all += weights[i];
        }
        return sum / all;
    }

    private double deviation(double[] layer, double mean) {
        double sum = 0;
        double all = 0;
        for (int i = 0; i < layer.length; i++) {
            sum += weights[i] * (layer[i] - mean) * (layer[i] - mean);
            all += weights[i];
        }
        return Math.sqrt(sum / all);
    }

    private double[] ofSigma3(double[] layer) {
        double mean = mean(layer);
        double deviation = deviation(layer, mean);
        double all = Arrays.stream(weights).sum();
        double[] slopes = new double[layer.length];
        // An even layer has a kink there: no direction is better than another.
        Arrays.setAll(slopes, i -> deviation == 0 ? 0 : 3 * weights[i] * (layer[i] - mean) / (all * deviation));
        return slopes;
    }

    /** Returns the largest value, or the smallest for a sign of -1. */
    private double extreme(double[] layer, int sign) {
        double found = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < layer.length; i++) {
            found = weights[i] > 0 ? Math.max(found, sign * layer[i]) : found;
        }
        return sign * found;
    }

    private double[] ofExtreme(double[] layer, int sign) {
        double end = extreme(layer, sign);
        double width = Math.max(1e-15, Math.abs(end - extreme(layer, -sign)) / SHARPNESS);
        double[] part = new double[layer.length];
        double sum = 0;
        double mean = 0;
        for (int i = 0; i < layer.length; i++) {
            part[i] = weights[i] > 0 ? Math.exp(sign * (layer[i] - end) / width) : 0;
            sum += part[i];
            mean += part[i] * layer[i];
        }
        double all = sum;
        double middle = mean / sum;
        double[] slopes = new double[layer.length];
        Arrays.setAll(slopes, i -> part[i] / all * (1 + sign * (layer[i] - middle) / width));
        return slopes;
    }
}
