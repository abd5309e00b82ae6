/**
 * A layout as a stream of polygons: what a reader gives and what everything else in this module takes.
 *
 * <p>A {@link org.evenstamp.geometry.layout.PolygonSource} pushes every polygon through {@link
 * org.evenstamp.geometry.layout.PolygonSink}s, one sink a worker, as often as it is asked to. A polygon is a {@link
 * org.evenstamp.geometry.layout.PackedPolygon}: plain arrays that the source reuses, so that a layout of any size passes
 * through without an object a polygon.
 */
@NullMarked
package org.evenstamp.geometry.layout;

import org.jspecify.annotations.NullMarked;
