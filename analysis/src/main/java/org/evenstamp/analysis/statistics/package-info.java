/**
 * How sure a number is: distributions of what is not known exactly ({@link org.evenstamp.analysis.statistics.Distribution}),
 * points that fill a space evenly ({@link org.evenstamp.analysis.statistics.SobolPoints}, {@link
 * org.evenstamp.analysis.statistics.LatinHypercube}), what a share of samples says of a chance ({@link
 * org.evenstamp.analysis.statistics.ShareInterval}), which input matters ({@link
 * org.evenstamp.analysis.statistics.SobolIndices}), and the values that fit measurements best ({@link
 * org.evenstamp.analysis.statistics.LeastSquaresFit}). Nothing here knows of films or stamps. All of it is seeded: the same
 * input gives the same numbers.
 */
@NullMarked
package org.evenstamp.analysis.statistics;

import org.jspecify.annotations.NullMarked;
