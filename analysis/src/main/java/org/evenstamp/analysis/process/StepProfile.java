package org.evenstamp.analysis.process;

/** How a quantity goes through one step, against the elapsed share of the step in [0, 1]. */
public sealed interface StepProfile permits StepProfile.Ramp, NipPass, Drying.Course {

    /** Returns the value once a share of the step in [0, 1] has passed. */
    double at(double share);

    /** Returns the smallest value of the step. */
    double least();

    /** Returns the largest value of the step. */
    double most();

    /** Returns at which shares of the step between its ends the course has a corner. */
    default double[] corners() {
        return new double[0];
    }

    /** Returns a course that stays at one value. */
    static StepProfile constant(double value) {
        return new Ramp(value, value);
    }

    /**
     * Straight from one value to another.
     *
     * @param from value at the start
     * @param to value at the end
     */
    record Ramp(double from, double to) implements StepProfile {
        @Override
        public double at(double share) {
            return from + (to - from) * share;
        }

        @Override
        public double least() {
            return Math.min(from, to);
        }

        @Override
        public double most() {
            return Math.max(from, to);
        }
    }
}
