package org.evenstamp.analysis.process;

/** How a quantity goes through one step, against the elapsed share of the step in [0, 1]. */
public sealed interface Course {

    /** Returns the value once a share of the step in [0, 1] has passed. */
    double at(double share);

    /** Returns the smallest value of the step. */
    double least();

    /** Returns the largest value of the step. */
    double most();

    /** Returns a course that stays at one value. */
    static Course constant(double value) {
        return new Ramp(value, value);
    }

    /**
     * Straight from one value to another.
     *
     * @param from value at the start
     * @param to value at the end
     */
    record Ramp(double from, double to) implements Course {
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

    /**
     * A half ellipse over the step, as the pressure of a passing roller (Hertz), but nowhere less than what presses besides.
     *
     * @param peak value at half time
     * @param rest least value, such as the pressure of a tensioned web; the ellipse itself starts and ends at 0
     */
    record HalfEllipse(double peak, double rest) implements Course {
        @Override
        public double at(double share) {
            return Math.max(rest, 2 * peak * Math.sqrt(Math.max(0, share * (1 - share))));
        }

        @Override
        public double least() {
            return Math.min(rest, peak);
        }

        @Override
        public double most() {
            return Math.max(rest, peak);
        }
    }
}
