package org.evenstamp.shared.spi;

import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;

/**
 * What an analysis may read.
 *
 * @param grid the tiles
 * @param fields the fields it needs, and those it uses that exist; no others
 * @param threads how many threads it may use; the result must not depend on it
 * @param progress where it counts its work
 */
public record AnalysisContext(TileGrid grid, FieldSet fields, int threads, Progress progress) {}
