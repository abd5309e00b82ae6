package org.evenstamp.engine.run;

import java.util.List;
import org.evenstamp.analysis.pipeline.FoundAnalysis;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;

/** An analysis that answers from memory when parameters and fields are those of a run before. */
public final class RememberedAnalysis implements AnalysisProvider {
    private final AnalysisProvider provider;
    private final AnalysisDescription description;
    private final StageMemory recall;

    /**
     * What an answer depends on.
     *
     * @param parameters its parameters
     * @param grid the tiles
     * @param fields what it reads; a field equals itself alone, and fields that are computed anew are not the same
     */
    private record From(Parameters parameters, TileGrid grid, List<Field> fields) {}

    private RememberedAnalysis(FoundAnalysis found, StageMemory recall) {
        this.provider = found.provider();
        this.description = found.description();
        this.recall = recall;
    }

    /** Returns an analysis that remembers. */
    public static FoundAnalysis of(FoundAnalysis found, StageMemory recall) {
        return found.madeBy(new RememberedAnalysis(found, recall));
    }

    @Override
    public AnalysisDescription description() {
        return description;
    }

    @Override
    public Analysis create(Parameters parameters) {
        Analysis analysis = provider.create(parameters);
        return context -> {
            From from = new From(
                    parameters, context.grid(), List.copyOf(context.fields().all()));
            return recall.of(description.id(), () -> from, () -> analysis.run(context));
        };
    }
}
