/**
 * The results directory: everything a run found, in files that other programs read.
 *
 * <p>{@link org.evenstamp.cli.report.Results} is what a run has to tell; {@link
 * org.evenstamp.cli.report.ResultsDirectory} puts it on disk all or nothing. One class writes one file: {@link
 * org.evenstamp.cli.report.ResultJson}, {@link org.evenstamp.cli.report.TilesCsv}, {@link
 * org.evenstamp.cli.report.FieldsJson}, {@link org.evenstamp.cli.report.FieldsNpz}, {@link
 * org.evenstamp.cli.report.TilesGeoJson}, {@link org.evenstamp.cli.report.CurvesCsv}, {@link
 * org.evenstamp.cli.report.MapPicture}, {@link org.evenstamp.cli.report.FindingsJunit}, {@link
 * org.evenstamp.cli.report.FindingsSarif}. Numbers are in the field's display
 * unit throughout, with nine significant digits in text; the same run gives the same bytes.
 */
@NullMarked
package org.evenstamp.cli.report;

import org.jspecify.annotations.NullMarked;
