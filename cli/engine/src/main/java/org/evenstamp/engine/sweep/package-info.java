/**
 * Many runs of one job that differ in a few values. {@link org.evenstamp.engine.sweep.SweepPlan} says which, {@link
 * org.evenstamp.engine.sweep.Sweep} runs those that are missing, {@link org.evenstamp.engine.sweep.SweepStore} keeps what each
 * one found, and {@link org.evenstamp.engine.sweep.SweepSummary} and {@link org.evenstamp.engine.sweep.SweepMaps} say what all
 * of them mean: chances with their intervals, what matters, the window in which all limits hold.
 *
 * <p>A point is a job like any other. What it finds depends on its number alone, so that a sweep may be stopped, extended, cut
 * into parts and put together again in any order, and the answers are the same to the last bit.
 */
@NullMarked
package org.evenstamp.engine.sweep;

import org.jspecify.annotations.NullMarked;
