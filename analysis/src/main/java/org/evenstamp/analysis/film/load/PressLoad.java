package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.OptionalDouble;

/** What the press does to the film over time. Asked at increasing times from one thread. */
public interface PressLoad {
    /** Returns the time at which the pressing ends, in s. */
    double endSeconds();

    /** Returns the viscosity of the film at a time, in Pa s; where tiles differ, of the most fluid one. */
    double viscosityPascalSeconds(double seconds);

    /** Returns whether the viscosity differs from tile to tile; {@link #fluidity} tells how. */
    default boolean differsByTile() {
        return false;
    }

    /**
     * Writes the mean of each tile's fluidity, the reciprocal of its viscosity, over a time, in 1/(Pa s).
     *
     * @param from start of the time, s
     * @param to its end, s, at least {@code from}; where both are the same, the fluidity then
     * @param into overwritten, one value a tile; 0 where the film has set
     */
    default void fluidity(double from, double to, double[] into) {
        Arrays.fill(into, 1 / viscosityPascalSeconds((from + to) / 2));
    }

    /** Writes the pressure on the stamp's back at a time, one value a tile, in Pa. */
    void pressurePascal(double seconds, double[] into);

    /** Returns the temperature of the film at a time, in K; nothing where only a viscosity is known. */
    default OptionalDouble temperatureKelvin(double seconds) {
        return OptionalDouble.empty();
    }

    /** Returns times inside the pressing at which viscosity or pressure jump or kink; the steps end there. */
    default double[] breaks() {
        return new double[0];
    }

    /** Returns the load of one viscosity and one uniform pressure, held for a time. */
    static PressLoad constant(double pascalSeconds, double pascal, double seconds) {
        return new PressLoad() {
            @Override
            public double endSeconds() {
                return seconds;
            }

            @Override
            public double viscosityPascalSeconds(double time) {
                return pascalSeconds;
            }

            @Override
            public void pressurePascal(double time, double[] into) {
                Arrays.fill(into, pascal);
            }
        };
    }

    /** Another load with its pressure multiplied tile by tile. */
    final class Scaled extends LoadLike {
        private final double[] factor;

        /**
         * Scales a load.
         *
         * @param even the load
         * @param factor on its pressure, one a tile
         */
        Scaled(PressLoad even, double[] factor) {
            super(even);
            this.factor = factor.clone();
        }

        @Override
        public void pressurePascal(double seconds, double[] into) {
            super.pressurePascal(seconds, into);
            for (int i = 0; i < into.length; i++) {
                into[i] *= factor[i];
            }
        }
    }
}
