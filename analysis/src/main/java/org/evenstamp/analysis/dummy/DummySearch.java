package org.evenstamp.analysis.dummy;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.evenstamp.analysis.film.LayerGoal;
import org.evenstamp.shared.progress.Stage;

/**
 * Amounts that make a number of the solved residual layer small.
 *
 * <p>A program on the averages stands in for the solve. From the second round on it is made to agree with the last solve that
 * counted: its averages are those that the solved layer speaks for, and a linear term gives it the slope that the way back of
 * the solve tells (a first-order consistent model, as in approximation and model management: Alexandrov, Dennis, Lewis and
 * Torczon, Struct. Optim. 15 (1998) 16, quoted from memory). Its optimum is a direction in which the priced number falls; half
 * the way is tried next where the whole one did not do, and the whole one again after a success. So where the solve is convex
 * and its slopes are right, the search ends at its optimum; elsewhere at the best that was found. Without slopes the averages
 * alone are taken over.
 *
 * <p>Not for use by several threads.
 */
public final class DummySearch {
    private static final double VARIANCE_GAP = 1e-5;
    private static final double RANGE_GAP = 1e-3;
    private static final int BUDGET = 5000;
    private static final double RANGE_PRICE = 0.01;

    /** More dummies do not pay where they lower the number by less of what it is without dummies. */
    public static final double LEAST_GAIN = 0.01;

    private static final double LEAST_STEP = 0.02; // of what is made small; a step that gains less is the last

    private static final double SHORTEST = 0.2; // part of the way to the program's optimum
    private static final double MOST_PRICE = 1e3; // on a curve, over the price that was asked for
    private static final int HALVINGS = 7; // of the price's logarithm, for one place of the curve

    /** What a solve of a stamp with some amounts came to. */
    public interface Trial {
        /** Returns the amounts that it had: what was asked for, in whole dummies. */
        double[] amounts();

        /** Returns the residual layer, in m. */
        double[] layer();

        /** Returns how the goal goes with the amount of each tile; empty where the way back is not known. */
        Optional<double[]> slopes();
    }

    /** The solve. */
    public interface Truth<T extends Trial> {
        /** Solves the stamp with these amounts, in m: volume per area of each tile. */
        T solve(double[] amounts);

        /** Solves stamps that do not wait for each other. Slopes are not asked of them. */
        default List<T> solveEach(List<double[]> amounts) {
            return amounts.stream().map(this::solve).toList();
        }
    }

    /** What is asked of the solve. Immutable. */
    public static final class Task {
        private final LayerGoal goal;
        private final double[] weights;
        private final double[] least;
        private final double[] most;
        private final DummyPrices prices;

        /**
         * Asks.
         *
         * @param goal the number: three standard deviations, or largest less smallest value
         * @param weights how much each tile counts in it
         * @param least smallest amount of each tile
         * @param most largest amount of each tile
         * @param prices of the amounts
         */
        public Task(LayerGoal goal, double[] weights, double[] least, double[] most, DummyPrices prices) {
            this.goal = goal;
            this.weights = weights.clone();
            this.least = least.clone();
            this.most = most.clone();
            this.prices = prices;
        }
    }

    /**
     * A place of the search.
     *
     * @param trial the solve
     * @param program how the program that proposed it ended
     * @param valueMetres the goal, exactly: no smooth extreme
     */
    public record Step<T extends Trial>(T trial, ProgramReport program, double valueMetres) {}

    private final Window window;
    private final Task task;
    private final boolean range;
    private final Stage stage;
    private final double leastStep;

    /**
     * Prepares.
     *
     * @param window how neighbours are averaged where no solve tells it
     * @param stage counts iterations of the programs
     */
    public DummySearch(Window window, Task task, Stage stage) {
        this(window, task, stage, LEAST_STEP);
    }

    /** Prepares a search that a step ends which gains less than a part of what is made small. */
    DummySearch(Window window, Task task, Stage stage, double leastStep) {
        this.leastStep = leastStep;
        this.window = window;
        this.task = task;
        this.stage = stage;
        range = task.goal.measure() == LayerGoal.Measure.SPREAD;
    }

    /**
     * Searches.
     *
     * @param volume cavity volume of each tile without dummies, m
     * @param without the layer without dummies, m
     * @param rounds most solves
     * @return every step, in order; the first is that of the averages alone
     */
    public <T extends Trial> List<Step<T>> run(double[] volume, double[] without, int rounds, Truth<T> truth) {
        double[] base = new double[volume.length];
        window.average(volume, base);
        return run(base, volume.length, without, rounds, truth);
    }

    /** The same from the averages that the layer without amounts speaks for. */
    public <T extends Trial> List<Step<T>> onward(double[] without, int rounds, Truth<T> truth) {
        double[] base = without.clone();
        for (int i = 0; i < base.length; i++) {
            base[i] = -base[i];
        }
        return run(base, base.length, without, rounds, truth);
    }

    private <T extends Trial> List<Step<T>> run(
            double[] base, int tiles, double[] without, int rounds, Truth<T> truth) {
        double start = value(without);
        double deviation = start / 3;
        List<Step<T>> steps = new ArrayList<>();
        DummyPlan plan = solve(base, new double[tiles], deviation, 1);
        steps.add(step(plan.amounts(), plan.report(), truth));
        Step<T> at = steps.get(0);
        double part = 1;
        DummyPlan next = null;
        while (steps.size() < rounds) {
            if (next == null) {
                next = solve(averages(at.trial), tilt(at.trial, at.valueMetres), deviation, 1);
            }
            double[] from = at.trial.amounts();
            double[] to = next.amounts();
            for (int i = 0; i < to.length; i++) {
                to[i] = from[i] + part * (to[i] - from[i]);
            }
            Step<T> step = step(to, next.report(), truth);
            steps.add(step);
            double gain = merit(at, deviation) - merit(step, deviation);
            if (gain > 0) {
                boolean little = gain < leastStep * merit(at, deviation);
                at = step;
                next = null;
                part = Math.min(1, 2 * part);
                if (little) {
                    break;
                }
            } else {
                part /= 2;
                if (part < SHORTEST || at.trial.slopes().isEmpty()) {
                    break;
                }
            }
        }
        return steps;
    }

    /**
     * Solves fewer dummies, with prices that rise until so much is left of a step's amounts.
     *
     * @param shares of the sum of its amounts, falling
     */
    public <T extends Trial> List<Step<T>> fewer(Step<T> from, double[] without, double[] shares, Truth<T> truth) {
        List<DummyPlan> plans = new ArrayList<>();
        double deviation = value(without) / 3;
        double[] base = averages(from.trial);
        double[] tilt = tilt(from.trial, from.valueMetres);
        double all = sum(from.trial.amounts());
        double low = 0;
        for (double share : shares) {
            double high = Math.log(MOST_PRICE);
            DummyPlan found = null;
            for (int n = 0; n < HALVINGS; n++) {
                double middle = (low + high) / 2;
                DummyPlan plan = solve(base, tilt, deviation, Math.exp(middle));
                if (sum(plan.amounts()) > share * all) {
                    low = middle;
                } else {
                    high = middle;
                    found = plan;
                }
            }
            if (found != null) {
                plans.add(found);
            }
        }
        List<T> trials = truth.solveEach(plans.stream().map(DummyPlan::amounts).toList());
        List<Step<T>> steps = new ArrayList<>();
        for (int n = 0; n < trials.size(); n++) {
            T trial = trials.get(n);
            steps.add(new Step<>(trial, plans.get(n).report(), value(trial.layer())));
        }
        return steps;
    }

    /**
     * Returns the steps that no other one with as few dummies or fewer beats, the fewest dummies first: the number falls from
     * one to the next.
     *
     * @param startMetres the number without dummies; what does not get below it is no gain
     */
    public static <T extends Trial> List<Step<T>> curve(List<Step<T>> steps, double startMetres) {
        List<Step<T>> sorted = new ArrayList<>(steps);
        sorted.sort(Comparator.comparingDouble((Step<T> step) -> sum(step.trial.amounts()))
                .thenComparingDouble(Step::valueMetres));
        List<Step<T>> curve = new ArrayList<>();
        double best = startMetres;
        for (Step<T> step : sorted) {
            if (step.valueMetres < best) {
                curve.add(step);
                best = step.valueMetres;
            }
        }
        return curve;
    }

    /**
     * Returns the place of a curve behind which more dummies do not pay: the first that is less than {@value #LEAST_GAIN} of the
     * number without dummies above the last.
     */
    public static <T extends Trial> Step<T> paying(List<Step<T>> curve, double startMetres) {
        double best = curve.get(curve.size() - 1).valueMetres;
        return curve.stream()
                .filter(step -> step.valueMetres <= best + LEAST_GAIN * startMetres)
                .findFirst()
                .orElseThrow();
    }

    private <T extends Trial> Step<T> step(double[] amounts, ProgramReport report, Truth<T> truth) {
        T trial = truth.solve(amounts);
        return new Step<>(trial, report, value(trial.layer()));
    }

    private double value(double[] layer) {
        return task.goal.value(layer);
    }

    /** Returns what the search makes small: half the variance with its prices, or the range with its own. */
    private <T extends Trial> double merit(Step<T> step, double deviation) {
        double[] amounts = step.trial.amounts();
        if (range) {
            return step.valueMetres + RANGE_PRICE * sum(amounts) / amounts.length;
        }
        double squares = 0;
        for (double amount : amounts) {
            squares += amount * amount;
        }
        return step.valueMetres * step.valueMetres / 18
                + (task.prices.area() * deviation * sum(amounts) + task.prices.amount() * squares / 2) / amounts.length;
    }

    private DummyPlan solve(double[] base, double[] tilt, double deviation, double dearer) {
        DummyTask program = DummyTask.of(window, base, task.least, task.most)
                .weighted(task.weights)
                .tilted(tilt);
        if (range) {
            return RangeProgram.range(program, RANGE_PRICE * dearer).solve(RANGE_GAP, BUDGET, stage);
        }
        // The price of area belongs to the solved spread without dummies, whatever the averages of a round come to.
        double own = program.deviation();
        double area = task.prices.area() * dearer * (own > 0 && deviation > 0 ? deviation / own : 1);
        return new VarianceProgram(program, new DummyPrices(area, task.prices.amount()))
                .solve(VARIANCE_GAP, BUDGET, stage);
    }

    /** Returns the averages without dummies that a solved layer speaks for. */
    private double[] averages(Trial trial) {
        double[] base = new double[window.windows()];
        window.average(trial.amounts(), base);
        double[] layer = trial.layer();
        for (int i = 0; i < base.length; i++) {
            base[i] = -layer[i] - base[i];
        }
        return base;
    }

    /** Returns by how much the slope of the program misses that of the solve. */
    private double[] tilt(Trial trial, double value) {
        double[] tilt = new double[window.tiles()];
        Optional<double[]> slopes = trial.slopes();
        if (slopes.isEmpty()) {
            return tilt;
        }
        double[] ofLayer = task.goal.slopes(trial.layer());
        window.spread(ofLayer, tilt); // the averaged layer falls as the averaged volume grows
        double scale = range ? 1 : tilt.length * value / 9;
        for (int i = 0; i < tilt.length; i++) {
            tilt[i] = scale * (slopes.get()[i] + tilt[i]);
        }
        return tilt;
    }

    private static double sum(double[] amounts) {
        double sum = 0;
        for (double amount : amounts) {
            sum += Math.abs(amount);
        }
        return sum;
    }
}
