package org.evenstamp.analysis.film;

/** What the press does to the film over time. Asked at increasing times from one thread. */
public interface Recipe {
    /** Returns the time at which the pressing ends, in s. */
    double endSeconds();

    /** Returns the viscosity of the film at a time, in Pa s. */
    double viscosityPascalSeconds(double seconds);

    /** Writes the pressure on the stamp's back at a time, one value a tile, in Pa. */
    void pressurePascal(double seconds, double[] into);

    /** Returns times inside the pressing at which viscosity or pressure jump or kink; the steps end there. */
    default double[] breaks() {
        return new double[0];
    }

    /** Returns the recipe of one viscosity and one uniform pressure, held for a time. */
    static Recipe constant(double pascalSeconds, double pascal, double seconds) {
        return new Recipe() {
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
                java.util.Arrays.fill(into, pascal);
            }
        };
    }
}
