/**
 * Layout files become polygons.
 *
 * <pre>
 *  file --FileBytes--> bytes --ChunkCutter--> chunks of whole features --RecordParser--> rings --FeatureCollector--> polygons --> sink
 *        unpack               one at a time         every worker its own           check, mend, scale, count
 * </pre>
 *
 * <p>{@link org.evenstamp.geometry.read.LayoutFile} is the way in. Workers take turns at the cutter, which hands out the next
 * stretch of the file that ends where a feature ends; then each parses its own stretch from bytes into a {@link
 * org.evenstamp.geometry.layout.PackedPolygon}, without text or objects between. Where the file is cut depends on the file alone, so
 * the number of a polygon is the same in every pass and for any number of workers.
 *
 * <p>Two kinds of wrong are kept apart. Broken syntax ends the reading with an {@link
 * org.evenstamp.shared.problem.InputException} that names file, line and column. A feature whose syntax is right but whose
 * shape or properties cannot be is counted under a {@link org.evenstamp.geometry.clean.Defect}, its place kept in the {@link
 * org.evenstamp.geometry.read.ReadReport}, and left out or mended.
 */
@NullMarked
package org.evenstamp.geometry.read;

import org.jspecify.annotations.NullMarked;
