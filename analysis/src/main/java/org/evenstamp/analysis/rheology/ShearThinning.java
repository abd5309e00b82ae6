package org.evenstamp.analysis.rheology;

import org.evenstamp.shared.problem.InputException;

/**
 * How the viscosity falls with the shear rate. Both laws are stated with a critical stress, {@code eta0 gdot = tau*}, which
 * hardly moves with temperature, so that one set serves the whole process; the relaxation time is {@code eta0/tau*}. The
 * viscosity at infinite rate is taken as nothing.
 */
public sealed interface ShearThinning {

    /**
     * Returns the viscosity at a shear rate.
     *
     * @param zeroShearPascalSeconds viscosity at rest, positive
     * @param shearRatePerSecond magnitude of the shear rate, not negative
     */
    double pascalSeconds(double zeroShearPascalSeconds, double shearRatePerSecond);

    /** Returns by which power the stress grows with the shear rate there: 1 at rest, n at high rates. */
    double stressExponent(double zeroShearPascalSeconds, double shearRatePerSecond);

    /**
     * Returns the viscosity at a shear stress. The stress grows with the rate, ever more slowly, so Newton's method in
     * logarithms climbs to the rate from that of the film at rest.
     *
     * @param zeroShearPascalSeconds viscosity at rest, positive
     * @param stressPascals magnitude of the stress, not negative
     */
    default double underStress(double zeroShearPascalSeconds, double stressPascals) {
        double rate = stressPascals / zeroShearPascalSeconds;
        double viscosity = pascalSeconds(zeroShearPascalSeconds, rate);
        for (int n = 0; n < 60 && viscosity * rate < stressPascals * (1 - 1e-9); n++) {
            double missing = stressPascals / (viscosity * rate);
            rate *= Math.pow(missing, 1 / stressExponent(zeroShearPascalSeconds, rate));
            viscosity = pascalSeconds(zeroShearPascalSeconds, rate);
        }
        return viscosity;
    }

    /** No thinning. */
    record None() implements ShearThinning {
        @Override
        public double pascalSeconds(double zeroShearPascalSeconds, double shearRatePerSecond) {
            return zeroShearPascalSeconds;
        }

        @Override
        public double stressExponent(double zeroShearPascalSeconds, double shearRatePerSecond) {
            return 1;
        }
    }

    /**
     * Cross: {@code eta0/(1 + (eta0 gdot/tau*)^(1-n))} (Cross, J. Colloid Sci. 20 (1965) 417, from memory).
     *
     * @param criticalPascals tau*, the stress at which the viscosity has halved
     * @param exponent n, in (0, 1]: the power-law exponent of the stress at high rates
     */
    record Cross(double criticalPascals, double exponent) implements ShearThinning {
        /** Checks the constants. */
        public Cross {
            requireConstants(criticalPascals, exponent);
        }

        @Override
        public double pascalSeconds(double zeroShearPascalSeconds, double shearRatePerSecond) {
            return zeroShearPascalSeconds
                    / (1 + Math.pow(zeroShearPascalSeconds * shearRatePerSecond / criticalPascals, 1 - exponent));
        }

        @Override
        public double stressExponent(double zeroShearPascalSeconds, double shearRatePerSecond) {
            double thinned = Math.pow(zeroShearPascalSeconds * shearRatePerSecond / criticalPascals, 1 - exponent);
            return 1 - (1 - exponent) * thinned / (1 + thinned);
        }
    }

    /**
     * Carreau and Yasuda: {@code eta0 (1 + (eta0 gdot/tau*)^a)^((n-1)/a)}; Carreau's own law has {@code a = 2} (Carreau,
     * Trans. Soc. Rheol. 16 (1972) 99, from memory).
     *
     * @param criticalPascals tau*, {@code eta0} over the relaxation time
     * @param sharpness a, positive: how sharply the law bends
     * @param exponent n, in (0, 1]
     */
    record CarreauYasuda(double criticalPascals, double sharpness, double exponent) implements ShearThinning {
        /** Checks the constants. */
        public CarreauYasuda {
            requireConstants(criticalPascals, exponent);
            ViscosityLaw.requirePositive("the sharpness", sharpness, "");
        }

        @Override
        public double pascalSeconds(double zeroShearPascalSeconds, double shearRatePerSecond) {
            double reduced = zeroShearPascalSeconds * shearRatePerSecond / criticalPascals;
            return zeroShearPascalSeconds * Math.pow(1 + Math.pow(reduced, sharpness), (exponent - 1) / sharpness);
        }

        @Override
        public double stressExponent(double zeroShearPascalSeconds, double shearRatePerSecond) {
            double bent = Math.pow(zeroShearPascalSeconds * shearRatePerSecond / criticalPascals, sharpness);
            return 1 - (1 - exponent) * bent / (1 + bent);
        }
    }

    private static void requireConstants(double criticalPascals, double exponent) {
        ViscosityLaw.requirePositive("the critical stress", criticalPascals, "Pa");
        ViscosityLaw.requirePositive("the thinning exponent", exponent, "");
        if (exponent > 1) {
            throw new InputException(
                    "rheology.thinning-exponent",
                    "",
                    "the thinning exponent is " + exponent,
                    "give a number in (0, 1]");
        }
    }
}
