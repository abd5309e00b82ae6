package org.evenstamp.analysis.dummy;

import org.evenstamp.shared.progress.Stage;

/**
 * Amounts that make the variance of the averaged volume small:
 *
 * <pre>  minimise  ½ var(b + K x) + a s mean|x| + ½ c mean(x²)   over   least &lt;= x &lt;= most</pre>
 *
 * <p>with the prices a and c of {@link DummyPrices} and s the standard deviation of b. Variance and standard deviation count every
 * average by the weight that the task gives it. A linear term of the task is added.
 *
 * <p>Method: proximal gradients with Nesterov's extrapolation, started afresh whenever it points uphill (O'Donoghue and Candès,
 * Found. Comput. Math. 15 (2015) 715, quoted from memory); the step is 1/(m + c) with the largest weight m, as K has a norm of at most 1. Each iteration
 * costs one slope of the window. The lower bound is that of convexity: from any point the objective lies above its tangent plus
 * {@code ½ c |Δx|²}, and the least of that over the bounds is known tile by tile. The iteration ends when primal less dual is
 * below the wanted share of the primal objective (or of 1e-9 of the objective without dummies, when nothing is left; of all of
 * it where there is a linear term), or at the budget.
 */
public final class VarianceProgram {
    private static final double NOTHING = 1e-9;

    private final DummyTask task;
    private final DummyPrices prices;
    private final int tiles;

    /** Prepares a program. */
    public VarianceProgram(DummyTask task, DummyPrices prices) {
        this.task = task;
        this.prices = prices;
        tiles = task.window().tiles();
    }

    /**
     * Solves.
     *
     * @param gap wanted relative gap
     * @param budget most iterations
     * @param stage counts iterations
     */
    public DummyPlan solve(double gap, int budget, Stage stage) {
        Window window = task.window();
        double[] scratch = new double[window.windows()];
        double[] pull = new double[tiles]; // Kᵀ(b - mean b), scaled to a mean over tiles
        double share = (double) tiles / window.windows();
        double squares = centred(scratch);
        window.spread(scratch, pull);
        for (int i = 0; i < tiles; i++) {
            pull[i] = share * pull[i] + task.tilt[i];
        }
        double start = squares * share / 2;
        double metre = prices.area() * Math.sqrt(squares / window.windows());
        double curb = prices.amount();
        double step = 1 / (share * task.largestWeight + curb);

        double[] x = new double[tiles];
        double[] before = new double[tiles];
        double[] best = new double[tiles];
        double[] ax = new double[tiles]; // slope at x, from those at the extrapolated points by linearity
        double[] y = new double[tiles];
        double[] ay = new double[tiles];
        double beta = 0;
        double t = 1;
        double primal = start;
        double dual = 0;
        int iterations = 0;
        // With a linear term the objective may be anything, 0 and less too.
        double least = (task.tilts() ? 1 : NOTHING) * start;
        if (task.tilts()) {
            dual = Double.NEGATIVE_INFINITY;
        }
        boolean converged = closed(primal, dual, least, gap);
        while (!converged && iterations < budget) {
            stage.advance(1);
            task.slope(y, ay, scratch);
            iterations++;
            for (int i = 0; i < tiles; i++) {
                ay[i] *= share;
                ax[i] = (ay[i] + beta * ax[i]) / (1 + beta);
            }
            double value = start + value(x, ax, pull, metre);
            if (value < primal) {
                primal = value;
                System.arraycopy(x, 0, best, 0, tiles);
            }
            dual = Math.max(dual, start + bound(y, ay, pull, metre));
            converged = closed(primal, dual, least, gap);
            if (converged) {
                break;
            }
            double uphill = 0;
            for (int i = 0; i < tiles; i++) {
                double next = task.priced(i, y[i] - step * (ay[i] + pull[i] + curb * y[i]), step * metre);
                uphill += (y[i] - next) * (next - x[i]);
                before[i] = x[i];
                x[i] = next;
            }
            if (uphill > 0) {
                t = 1;
            }
            double longer = (1 + Math.sqrt(1 + 4 * t * t)) / 2;
            beta = (t - 1) / longer;
            t = longer;
            for (int i = 0; i < tiles; i++) {
                y[i] = x[i] + beta * (x[i] - before[i]);
            }
        }
        // The primal value once more, without what the recurrence has gathered.
        task.slope(best, ay, scratch);
        for (int i = 0; i < tiles; i++) {
            ay[i] *= share;
        }
        primal = start + value(best, ay, pull, metre);
        double scale = Math.max(primal, least);
        return new DummyPlan(
                best,
                new ProgramReport(
                        start / tiles,
                        primal / tiles,
                        dual / tiles,
                        scale > 0 ? Math.max(0, primal - dual) / scale : 0,
                        iterations,
                        converged));
    }

    private static boolean closed(double primal, double dual, double least, double gap) {
        return primal - dual <= gap * Math.max(primal, least);
    }

    /** Writes the base without its mean, times the weights, and returns the weighted sum of squares. */
    private double centred(double[] centred) {
        double largest = 0;
        for (double value : task.base) {
            largest = Math.max(largest, Math.abs(value));
        }
        System.arraycopy(task.base, 0, centred, 0, centred.length);
        return task.centre(centred, 1e-13 * largest); // an even map up to rounding is even
    }

    private double value(double[] x, double[] ax, double[] pull, double metre) {
        double sum = 0;
        double curb = prices.amount();
        for (int i = 0; i < tiles; i++) {
            sum += x[i] * (0.5 * ax[i] + pull[i] + 0.5 * curb * x[i]) + metre * Math.abs(x[i]);
        }
        return sum;
    }

    /** Returns the least over the allowed amounts of the tangent at y with the curvature that is known to be there. */
    private double bound(double[] y, double[] ay, double[] pull, double metre) {
        double sum = 0;
        double curb = prices.amount();
        for (int i = 0; i < tiles; i++) {
            double slope = ay[i] + pull[i] + curb * y[i];
            double at;
            if (curb > 0) {
                at = task.priced(i, y[i] - slope / curb, metre / curb);
            } else {
                at = slope + metre < 0 ? task.most[i] : slope - metre > 0 ? task.least[i] : 0;
            }
            double move = at - y[i];
            sum += y[i] * (0.5 * ay[i] + pull[i] + 0.5 * curb * y[i])
                    + move * (slope + 0.5 * curb * move)
                    + metre * Math.abs(at);
        }
        return sum;
    }
}
