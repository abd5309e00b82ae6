package org.evenstamp.analysis.pipeline;

import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.jspecify.annotations.Nullable;

/**
 * An analysis that was found, with what it said of itself.
 *
 * @param provider makes the analysis
 * @param description what it declared when it was found
 * @param origin the jar or directory its class came from, for messages
 */
public record FoundAnalysis(AnalysisProvider provider, AnalysisDescription description, String origin) {

    /**
     * Asks a provider for its description.
     *
     * @throws IllegalStateException when it has none
     */
    public static FoundAnalysis of(AnalysisProvider provider, String origin) {
        @Nullable AnalysisDescription said = provider.description();
        if (said == null) { // a plug-in need not have been compiled with our null checks
            throw new IllegalStateException("its description is null");
        }
        return new FoundAnalysis(provider, said, origin);
    }

    /** Returns the id. */
    public String id() {
        return description.id();
    }

    /** Returns whether a jar of a plug-in directory brought it. */
    public boolean plugIn() {
        return provider.getClass().getClassLoader() != AnalysisProvider.class.getClassLoader();
    }

    /** Returns id, class and origin, for a message. */
    String identity() {
        return id() + " (class " + provider.getClass().getName() + " in " + origin + ")";
    }
}
