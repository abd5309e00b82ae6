package org.evenstamp.analysis.dummy;

/**
 * How a program ended.
 *
 * @param start the objective without dummies
 * @param primal the objective of the amounts found
 * @param dual a bound that no amounts can get below
 * @param gap {@code primal - dual} over what the program measures it by
 * @param iterations applications of the window's slope, or of window and transpose
 * @param converged whether the wanted gap was reached within the budget
 */
public record ProgramReport(double start, double primal, double dual, double gap, int iterations, boolean converged) {}
