package org.evenstamp.shared.spi;

import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.finding.Finding;

/**
 * What an analysis answers.
 *
 * @param fields exactly the fields it declared to give
 * @param figures single numbers for the summary, in the order they are shown
 * @param curves series of numbers, such as a history over time
 * @param warnings what a reader of the result must know
 * @param snapshots fields it gives as they came to be, those of one field in order of time
 */
public record AnalysisResult(
        List<Field> fields,
        List<Figure> figures,
        List<Curve> curves,
        List<Finding.Warning> warnings,
        List<Snapshot> snapshots) {
    /** Copies the lists. */
    public AnalysisResult {
        fields = List.copyOf(fields);
        figures = List.copyOf(figures);
        curves = List.copyOf(curves);
        warnings = List.copyOf(warnings);
        snapshots = List.copyOf(snapshots);
    }

    /** Makes a result without snapshots. */
    public AnalysisResult(
            List<Field> fields, List<Figure> figures, List<Curve> curves, List<Finding.Warning> warnings) {
        this(fields, figures, curves, warnings, List.of());
    }

    /** Returns a result of fields alone. */
    public static AnalysisResult of(List<Field> fields) {
        return new AnalysisResult(fields, List.of(), List.of(), List.of());
    }
}
