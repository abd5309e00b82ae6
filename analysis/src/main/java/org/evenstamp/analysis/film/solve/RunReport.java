package org.evenstamp.analysis.film.solve;

/**
 * What a run of the film solver took and how it ended.
 *
 * @param endSeconds time reached
 * @param steps accepted time steps
 * @param rejections time steps cut and tried again
 * @param newtonSteps Newton steps of all time steps, the rejected ones included
 * @param cgIterations conjugate-gradient iterations of all Newton steps
 * @param cgShortfalls linear solves that ended at their budget
 * @param massError largest difference between the film under the stamp and the film that was there, over the latter
 * @param complete whether the end of the load was reached
 */
public record RunReport(
        double endSeconds,
        int steps,
        int rejections,
        int newtonSteps,
        int cgIterations,
        int cgShortfalls,
        double massError,
        boolean complete) {}
