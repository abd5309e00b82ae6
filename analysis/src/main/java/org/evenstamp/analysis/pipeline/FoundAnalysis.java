package org.evenstamp.analysis.pipeline;

import java.util.List;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.jspecify.annotations.Nullable;

/**
 * An analysis that was found, with what it said of itself.
 *
 * @param provider makes the analysis
 * @param description what it declared when it was found
 * @param limitableFigures those of its figures that a job may limit, as it said when it was found
 * @param origin the jar or directory its class came from, for messages
 */
public record FoundAnalysis(
        AnalysisProvider provider, AnalysisDescription description, List<FieldName> limitableFigures, String origin) {

    /**
     * Asks a provider what it declares.
     *
     * @throws IllegalStateException when it has no description, or no list of figures
     */
    public static FoundAnalysis of(AnalysisProvider provider, String origin) {
        @Nullable AnalysisDescription said = provider.description();
        if (said == null) { // a plug-in need not have been compiled with our null checks
            throw new IllegalStateException("its description is null");
        }
        @Nullable List<FieldName> figures = provider.limitableFigures();
        if (figures == null || figures.stream().anyMatch(figure -> figure == null)) {
            throw new IllegalStateException("its list of figures that a job may limit is null, or holds a null");
        }
        return new FoundAnalysis(provider, said, List.copyOf(figures), origin);
    }

    /** Returns the analysis as another provider makes it; what was declared stays. */
    public FoundAnalysis madeBy(AnalysisProvider other) {
        return new FoundAnalysis(other, description, limitableFigures, origin);
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
