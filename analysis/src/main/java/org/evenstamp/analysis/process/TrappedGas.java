package org.evenstamp.analysis.process;

/**
 * Gas shut into a cavity by the film: it shrinks as the pressure on it grows (Boyle, isothermal) and goes into solution in
 * the film below (Henry). Pressures are absolute.
 */
public final class TrappedGas {
    private TrappedGas() {}

    /** Returns the share of a sealed cavity left to the gas: {@code p0/p}, at most 1. */
    public static double unfilledShare(double sealedPascals, double pascals) {
        requirePressures(sealedPascals, pascals);
        return Math.min(1, sealedPascals / pascals);
    }

    /**
     * Returns the height of gas that is left, in m, once the film holds all it can: {@code h_g p0/p - H h}, not below 0.
     *
     * @param gasMetres height of the gas when it was shut in
     * @param sealedPascals its pressure then
     * @param pascals its pressure now
     * @param henry concentration in the film over that in the gas at equilibrium, a pure number
     * @param filmMetres thickness of the film that can take it up
     */
    public static double leftMetres(
            double gasMetres, double sealedPascals, double pascals, double henry, double filmMetres) {
        requirePressures(sealedPascals, pascals);
        return Math.max(0, gasMetres * sealedPascals / pascals - henry * filmMetres);
    }

    /** Returns the pressure in Pa from which the film takes up all gas: {@code p0 h_g/(H h)}. */
    public static double dissolvingPascals(double gasMetres, double sealedPascals, double henry, double filmMetres) {
        ProcessKind.requirePositive("Henry's number", henry, "");
        ProcessKind.requirePositive("the film thickness", filmMetres, "m");
        return sealedPascals * gasMetres / (henry * filmMetres);
    }

    /** Returns the order of the time the gas needs to spread through the film, s: {@code h^2/D}. */
    public static double diffusionSeconds(double filmMetres, double squareMetresPerSecond) {
        ProcessKind.requirePositive("the diffusivity", squareMetresPerSecond, "m^2/s");
        return filmMetres * filmMetres / squareMetresPerSecond;
    }

    private static void requirePressures(double sealedPascals, double pascals) {
        ProcessKind.requirePositive("the pressure at sealing", sealedPascals, "Pa");
        ProcessKind.requirePositive("the absolute pressure", pascals, "Pa");
    }
}
