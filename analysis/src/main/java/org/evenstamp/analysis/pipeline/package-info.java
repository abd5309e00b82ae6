/**
 * Finds analyses, orders them, runs them and holds them to their word.
 *
 * <p>{@link org.evenstamp.analysis.pipeline.AnalysisFinder} looks on the class path and in plug-in directories; {@link
 * org.evenstamp.analysis.pipeline.Pipeline} checks what it found against each other and makes a {@link
 * org.evenstamp.analysis.pipeline.Plan} for the fields and parameters of a job; the plan says what will run and what is
 * skipped and why, and runs it: the result is an {@link org.evenstamp.analysis.pipeline.Outcome}.
 *
 * <p>Whose fault a failure is, its type says: an {@link org.evenstamp.shared.problem.InputException} is for the user to
 * mend (plug-ins that do not fit together, parameters that contradict each other), an {@link
 * org.evenstamp.analysis.pipeline.AnalysisFailure} is a bug of the analysis it names.
 */
@NullMarked
package org.evenstamp.analysis.pipeline;

import org.jspecify.annotations.NullMarked;
