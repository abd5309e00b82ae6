/**
 * The report as a page: one HTML file that opens from disk and asks no network for anything.
 *
 * <p>{@link org.evenstamp.output.page.ReportPage} puts it together: a skeleton, the libraries for map and plots from their
 * artifacts, our scripts, {@code result.json} as it stands in the results directory, and the numbers as packed text
 * ({@link org.evenstamp.output.page.Packed}). Nothing that a user wrote ever becomes markup: texts travel as JSON in which no
 * {@code <} is left, and the scripts put them on the page as text. The page's policy allows the scripts and styles in it by
 * their hashes and nothing else.
 *
 * <p>{@link org.evenstamp.output.page.SweepResults} writes what a sweep found, with a smaller page of its own,
 * {@link org.evenstamp.output.page.SweepPage}.
 */
@NullMarked
package org.evenstamp.output.page;

import org.jspecify.annotations.NullMarked;
