/**
 * Exact coverage of a grid by polygons, from sums over their edges.
 *
 * <p>The idea: a polygon's area left of nothing and right of an edge is known edge by edge. Every edge leaves, in each
 * grid cell it crosses, its <em>cover</em> (how far it climbs inside the cell) and its <em>area</em> (the part of the cell
 * to its right, as high as it climbs). A running sum of the covers along each row, plus the areas, is the covered area of
 * each cell. The cost follows the edges and the cells they cross; the size of a polygon costs nothing.
 *
 * <p>All sums are 64-bit integers (fixed point), so they do not depend on the order of the terms: any number of threads,
 * files or machines gives the same bits, sums of parts simply add, and what was added can be taken away without a trace.
 * The covers of a closed ring cancel exactly, so nothing leaks along a row.
 *
 * <p>{@link org.evenstamp.geometry.coverage.CoverageSums} is one set of sums; {@link
 * org.evenstamp.geometry.coverage.LayeredSums} keeps one a {@link org.evenstamp.geometry.coverage.Layer}.
 */
@NullMarked
package org.evenstamp.geometry.coverage;

import org.jspecify.annotations.NullMarked;
