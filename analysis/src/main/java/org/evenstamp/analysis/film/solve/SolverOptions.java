package org.evenstamp.analysis.film.solve;

/**
 * Tolerances and budgets of the film solver.
 *
 * @param firstStepShare first time step over the whole time; 0 for one that follows from the shortest fill time of the tiles
 * @param growth largest ratio of a time step to the one before, above 1
 * @param timeTolerance wanted mean difference between the gap and its extrapolation from the step before, over the mean gap
 * @param newtonTolerance largest mismatch of stamp and film over the film thickness that ends Newton's iteration
 * @param newtonBudget Newton steps before a time step is cut
 * @param cgBudget conjugate-gradient iterations in one linear solve
 * @param stepBudget time steps before the run gives up, beside four for each time at which one must end
 */
public record SolverOptions(
        double firstStepShare,
        double growth,
        double timeTolerance,
        double newtonTolerance,
        int newtonBudget,
        int cgBudget,
        int stepBudget) {
    /** What the tool uses: the values are this project's own, found by refinement. */
    public static final SolverOptions STANDARD = new SolverOptions(0, 1.12, 0.005, 1e-6, 150, 1000, 2000);

    /**
     * Returns these options with another wanted error of a time step. Where nothing but the growth limits the steps, they last
     * in proportion to the time gone by and their errors with them: so it goes along, as a step's length does with its error.
     */
    public SolverOptions withTimeTolerance(double newTolerance) {
        return withTimeControl(1 + (growth - 1) * Math.sqrt(newTolerance / timeTolerance), newTolerance);
    }

    /** Returns these options with another end of Newton's iteration. */
    public SolverOptions withNewtonTolerance(double newTolerance) {
        return new SolverOptions(
                firstStepShare, growth, timeTolerance, newTolerance, newtonBudget, cgBudget, stepBudget);
    }

    /** Returns these options with another growth and time tolerance. */
    public SolverOptions withTimeControl(double newGrowth, double newTolerance) {
        return new SolverOptions(
                firstStepShare, newGrowth, newTolerance, newtonTolerance, newtonBudget, cgBudget, stepBudget);
    }
}
