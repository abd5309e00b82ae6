package org.evenstamp.analysis.pipeline;

import java.util.List;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.spi.AnalysisResult;

/**
 * What a run of the pipeline came to. The order of everything in it is that in which the analyses were found, whichever
 * finished first.
 *
 * @param fields the tile map's fields, then those of each analysis
 * @param results the answers
 * @param skipped the analyses that did not run
 */
public record Outcome(FieldSet fields, List<Answer> results, List<Skipped> skipped) {
    /**
     * The answer of one analysis.
     *
     * @param analysis the analysis
     * @param result what it delivered
     */
    public record Answer(FoundAnalysis analysis, AnalysisResult result) {}

    /** Copies the lists. */
    public Outcome {
        results = List.copyOf(results);
        skipped = List.copyOf(skipped);
    }

    /** Returns the warnings of all analyses. */
    public List<Finding.Warning> warnings() {
        return results.stream()
                .flatMap(answer -> answer.result().warnings().stream())
                .toList();
    }
}
