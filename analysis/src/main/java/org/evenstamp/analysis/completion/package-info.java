/**
 * What a job leaves out: {@link org.evenstamp.analysis.completion.JobCompletion} lets the materials that a job names, and its
 * process, answer the numbers that the analyses need.
 */
@NullMarked
package org.evenstamp.analysis.completion;

import org.jspecify.annotations.NullMarked;
