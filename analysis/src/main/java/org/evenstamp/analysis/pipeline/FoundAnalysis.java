package org.evenstamp.analysis.pipeline;

import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;

/**
 * An analysis that was found, with what it said of itself.
 *
 * @param provider makes the analysis
 * @param description what it declared when it was found
 * @param origin the jar or directory its class came from, for messages
 */
public record FoundAnalysis(AnalysisProvider provider, AnalysisDescription description, String origin) {

    /** Asks a provider for its description. */
    public static FoundAnalysis of(AnalysisProvider provider, String origin) {
        return new FoundAnalysis(provider, provider.description(), origin);
    }

    /** Returns the id. */
    public String id() {
        return description.id();
    }

    /** Returns id, class and origin, for a message. */
    String identity() {
        return id() + " (class " + provider.getClass().getName() + " in " + origin + ")";
    }
}
