package org.evenstamp.analysis.film;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class FilmContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new FilmProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(FilmProvider.FILL_TIME.id(), FilmProvider.PRESSURE_OPEN.id(), FilmProvider.FILL_MEMORY.id());
    }
}
