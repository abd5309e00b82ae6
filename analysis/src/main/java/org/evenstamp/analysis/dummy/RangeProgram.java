package org.evenstamp.analysis.dummy;

import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Stage;

/**
 * Amounts that make the range of the averaged volume small, a linear program:
 *
 * <pre>  minimise  max(w) - min(w) + price mean|x|   where  w = b + K x,  least &lt;= x &lt;= most</pre>
 *
 * <p>over the averages that have a weight in the task, or, under a ceiling U that the averages may not exceed for nothing, {@code weight max(U, max(w)) - min(w) + price mean|x|}:
 * the classical fill program (raise the emptiest window, let none be fuller than U) when the weight is large.
 *
 * <p>Method: the largest and the smallest average are maxima over weights z and y on a simplex. A proximal term around the
 * weights of the last round makes the objective smooth in x; each round minimises it by proximal gradients with
 * extrapolation until it is settled to a tenth of the gap that is left, then takes the weights over (the method of multipliers: Rockafellar, SIAM J. Control Optim. 14 (1976) 877,
 * quoted from memory). Every iteration yields amounts, whose objective is exact, and weights, whose lower bound {@code (z - y)·b
 * + Σ min over the bounds} is exact too. It ends when they differ by less than the wanted share of the range without dummies,
 * or at the budget.
 */
public final class RangeProgram {
    // Found by trial on maps of 36 to 65,536 tiles.
    private static final int ROUND = 200; // most iterations with the same weights in the proximal term
    private static final double FIRST = 40; // proximal parameter over the range without dummies
    private static final double GROWTH = 1.4; // of the parameter when a round did not settle within its iterations
    private static final double CUT = 0.7; // of the parameter when it did
    private static final double SETTLED = 0.1; // gap of a round over the gap of the program

    private static final double ROUNDING = 1e-13;

    private final DummyTask task;
    private final double price;
    private final double ceiling;
    private final double weight;
    private final int tiles;
    private final int windows;
    private final double[] candidates;

    private RangeProgram(DummyTask task, double price, double ceiling, double weight) {
        if (!(price >= 0) || !(weight >= 1) || Double.isInfinite(price) || Double.isInfinite(weight)) {
            throw new IllegalArgumentException("a price of " + price + ", a weight of " + weight);
        }
        this.task = task;
        this.price = price;
        this.ceiling = ceiling;
        this.weight = weight;
        tiles = task.window().tiles();
        windows = task.window().windows();
        candidates = new double[windows];
    }

    /**
     * Prepares a program without a ceiling.
     *
     * @param price what a metre of mean amount costs in metres of range
     */
    public static RangeProgram range(DummyTask task, double price) {
        return new RangeProgram(task, price, Double.NEGATIVE_INFINITY, 1);
    }

    /**
     * Prepares a program with a ceiling.
     *
     * @param ceiling most that a window may hold, m
     * @param weight what a metre above the ceiling costs, at least 1
     * @throws InputException when windows exceed the ceiling without dummies and nothing can be taken from them
     */
    public static RangeProgram below(double ceiling, double weight, DummyTask task, double price) {
        double[] lowest = new double[task.window().windows()];
        task.window().average(task.least, lowest);
        double top = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < lowest.length; i++) {
            top = task.counts(i) ? Math.max(top, task.base[i] + lowest[i]) : top;
        }
        if (!(ceiling >= top)) {
            throw new InputException(
                    "fill.ceiling",
                    "ceiling",
                    "no window can be kept below " + ceiling + " m: the fullest holds " + top + " m as it is",
                    "the nearest ceiling that is possible is " + top + " m");
        }
        return new RangeProgram(task, price, ceiling, weight);
    }

    /**
     * Solves.
     *
     * @param gap wanted gap over the range without dummies
     * @param budget most iterations
     * @param stage counts iterations
     */
    public DummyPlan solve(double gap, int budget, Stage stage) {
        double cost = price / tiles;
        double[] x = new double[tiles];
        double[] y = new double[tiles];
        double[] best = new double[tiles];
        double[] slope = new double[tiles];
        double[] full = new double[windows]; // averages
        double[] top = new double[windows]; // weights of the fullest windows
        double[] low = new double[windows]; // weights of the emptiest ones
        double[] topCentre = new double[windows];
        double[] lowCentre = new double[windows];

        Spread without = spread(x, full, cost);
        double start = without.objective();
        double primal = start;
        double scale = without.range();
        guess(topCentre, lowCentre, full);
        double dual = Math.max(floor(), bound(topCentre, lowCentre, full, slope, cost));
        double soft = FIRST * scale;
        double t = 1;
        int iterations = 0;
        int sinceRound = 0;
        boolean converged = scale <= ROUNDING * largest() || primal - dual <= gap * scale;
        while (!converged && iterations < budget) {
            stage.advance(1);
            iterations++;
            task.window().average(y, full);
            for (int w = 0; w < windows; w++) {
                if (!task.counts(w)) {
                    low[w] = Double.NEGATIVE_INFINITY;
                    top[w] = Double.NEGATIVE_INFINITY;
                    continue;
                }
                double value = task.base[w] + full[w];
                low[w] = lowCentre[w] - value / soft;
                top[w] = topCentre[w] + (limited() ? value - ceiling : value) / soft;
            }
            ontoSimplex(low, 1);
            if (!limited() || positiveSum(top) > weight) {
                ontoSimplex(top, weight);
            } else {
                for (int w = 0; w < windows; w++) {
                    top[w] = Math.max(0, top[w]);
                }
            }
            dual = Math.max(dual, bound(top, low, full, slope, cost));
            double unsettled = 0;
            for (int i = 0; i < tiles; i++) {
                unsettled += slope[i] * x[i] + cost * Math.abs(x[i]) - lowest(i, slope[i], cost);
            }
            double step = soft / 2;
            double uphill = 0;
            for (int i = 0; i < tiles; i++) {
                double next = task.priced(i, y[i] - step * slope[i], step * cost);
                uphill += (y[i] - next) * (next - x[i]);
                y[i] = next;
            }
            if (uphill > 0) {
                t = 1;
            }
            double longer = (1 + Math.sqrt(1 + 4 * t * t)) / 2;
            double beta = (t - 1) / longer;
            t = longer;
            Spread now = spread(y, full, cost);
            if (now.objective() < primal) {
                primal = now.objective();
                System.arraycopy(y, 0, best, 0, tiles);
            }
            for (int i = 0; i < tiles; i++) {
                double next = y[i];
                y[i] = next + beta * (next - x[i]);
                x[i] = next;
            }
            converged = primal - dual <= gap * scale;
            boolean settled = unsettled <= SETTLED * (primal - dual);
            if (settled || ++sinceRound == ROUND) {
                soft *= settled ? CUT : GROWTH;
                sinceRound = 0;
                t = 1;
                System.arraycopy(top, 0, topCentre, 0, windows);
                System.arraycopy(low, 0, lowCentre, 0, windows);
            }
        }
        return new DummyPlan(
                best,
                new ProgramReport(
                        start,
                        primal,
                        dual,
                        scale > 0 ? Math.max(0, primal - dual) / scale : 0,
                        iterations,
                        converged));
    }

    private boolean limited() {
        return ceiling > Double.NEGATIVE_INFINITY;
    }

    /** The objective cannot be lower, whatever the amounts: a range is not negative. */
    private double floor() {
        return limited() || task.tilts() ? Double.NEGATIVE_INFINITY : 0;
    }

    private record Spread(double objective, double range) {}

    private Spread spread(double[] x, double[] averages, double cost) {
        task.window().average(x, averages);
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int w = 0; w < windows; w++) {
            if (!task.counts(w)) {
                continue;
            }
            double value = task.base[w] + averages[w];
            least = Math.min(least, value);
            most = Math.max(most, value);
        }
        double paid = 0;
        double tilted = 0;
        for (int i = 0; i < tiles; i++) {
            paid += Math.abs(x[i]);
            tilted += task.tilt[i] * x[i];
        }
        return new Spread(weight * Math.max(ceiling, most) - least + cost * paid + tilted, most - least);
    }

    /** Puts all weight on the window that is emptiest when every tile is filled, and on the one fullest when none is. */
    private void guess(double[] top, double[] low, double[] scratch) {
        task.window().average(task.most, scratch);
        low[extreme(scratch, -1)] = 1;
        task.window().average(task.least, scratch);
        top[extreme(scratch, 1)] = limited() ? 0 : weight;
    }

    private int extreme(double[] averages, int sign) {
        int best = -1;
        for (int w = 0; w < windows; w++) {
            if (!task.counts(w)) {
                continue;
            }
            if (best < 0 || sign * (task.base[w] + averages[w]) > sign * (task.base[best] + averages[best])) {
                best = w;
            }
        }
        return best;
    }

    /** Returns the lower bound of the weights and writes the slope {@code Kᵀ(top - low)}. */
    private double bound(double[] top, double[] low, double[] scratch, double[] slope, double cost) {
        double sum = limited() ? weight * ceiling : 0;
        for (int w = 0; w < windows; w++) {
            scratch[w] = top[w] - low[w];
            sum += scratch[w] * task.base[w] - (limited() ? top[w] * ceiling : 0);
        }
        task.window().spread(scratch, slope);
        for (int i = 0; i < tiles; i++) {
            slope[i] += task.tilt[i];
            sum += lowest(i, slope[i], cost);
        }
        return sum;
    }

    /** Returns the least that a tile can contribute at a slope. */
    private double lowest(int tile, double slope, double cost) {
        return Math.min(0, Math.min((slope + cost) * task.most[tile], (slope - cost) * task.least[tile]));
    }

    private double largest() {
        double largest = 0;
        for (double value : task.base) {
            largest = Math.max(largest, Math.abs(value));
        }
        return largest;
    }

    private static double positiveSum(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += Math.max(0, value);
        }
        return sum;
    }

    /**
     * Projects onto the non-negative vectors with the given sum: {@code max(v - t, 0)} with the threshold t found by Newton's
     * method from below, which ends after finitely many steps (Michelot, J. Optim. Theory Appl. 50 (1986) 195, quoted from
     * memory).
     */
    private void ontoSimplex(double[] values, double sum) {
        double largest = Double.NEGATIVE_INFINITY;
        for (double value : values) {
            largest = Math.max(largest, value);
        }
        double threshold = largest - sum;
        int count = 0;
        for (double value : values) {
            if (value > threshold) {
                candidates[count++] = value;
            }
        }
        while (true) {
            double total = 0;
            int kept = 0;
            for (int i = 0; i < count; i++) {
                if (candidates[i] > threshold) {
                    candidates[kept++] = candidates[i];
                    total += candidates[i] - largest; // small numbers keep their digits
                }
            }
            double next = largest + (total - sum) / kept;
            boolean done = kept == count && next <= threshold + 1e-15 * Math.max(1, Math.abs(threshold));
            count = kept;
            threshold = Math.max(threshold, next);
            if (done) {
                break;
            }
        }
        for (int i = 0; i < values.length; i++) {
            values[i] = Math.max(0, values[i] - threshold);
        }
    }
}
