/**
 * The results directory: everything a run found, in files that other programs read.
 *
 * <p>{@link org.evenstamp.engine.result.Results} is what a run has to tell; {@link
 * org.evenstamp.output.file.ResultsDirectory} puts it on disk all or nothing. One class writes one file: {@link
 * org.evenstamp.output.file.ResultJson}, {@link org.evenstamp.output.file.TilesCsv}, {@link
 * org.evenstamp.output.file.FieldsJson}, {@link org.evenstamp.output.file.FieldsNpz}, {@link
 * org.evenstamp.output.file.TilesGeoJson}, {@link org.evenstamp.output.file.CurvesCsv}, {@link
 * org.evenstamp.output.picture.MapPicture}, {@link org.evenstamp.output.file.FindingsJunit}, {@link
 * org.evenstamp.output.file.FindingsSarif}. Numbers are in the field's display
 * unit throughout, with nine significant digits in text; the same run gives the same bytes.
 */
@NullMarked
package org.evenstamp.output.file;

import org.jspecify.annotations.NullMarked;
