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
 * @param quietWithout parameters without which nobody is told that it did not run, as it said when it was found
 * @param declaredBy the class that said so; another one may make the analysis
 * @param origin the jar or directory its class came from, for messages
 */
public record FoundAnalysis(
        AnalysisProvider provider,
        AnalysisDescription description,
        List<FieldName> limitableFigures,
        List<String> quietWithout,
        Class<? extends AnalysisProvider> declaredBy,
        String origin) {

    /**
     * Asks a provider what it declares.
     *
     * @throws IllegalStateException when it has no description, or a list that is none
     */
    public static FoundAnalysis of(AnalysisProvider provider, String origin) {
        @Nullable AnalysisDescription said = provider.description();
        if (said == null) { // a plug-in need not have been compiled with our null checks
            throw new IllegalStateException("its description is null");
        }
        return new FoundAnalysis(
                provider,
                said,
                whole(provider.limitableFigures(), "figures that a job may limit"),
                whole(provider.quietWithout(), "parameters without which it is quiet"),
                provider.getClass(),
                origin);
    }

    private static <T> List<T> whole(@Nullable List<T> list, String what) {
        if (list == null || list.stream().anyMatch(element -> element == null)) {
            throw new IllegalStateException("its list of " + what + " is null, or holds a null");
        }
        return List.copyOf(list);
    }

    /** Returns the analysis as another provider makes it; what was declared stays. */
    public FoundAnalysis madeBy(AnalysisProvider other) {
        return new FoundAnalysis(other, description, limitableFigures, quietWithout, declaredBy, origin);
    }

    /** Returns the id. */
    public String id() {
        return description.id();
    }

    /** Returns whether a jar of a plug-in directory brought it. */
    public boolean plugIn() {
        return declaredBy.getClassLoader() != AnalysisProvider.class.getClassLoader();
    }

    /** Returns id, class and origin, for a message. */
    String identity() {
        return id() + " (class " + declaredBy.getName() + " in " + origin + ")";
    }
}
