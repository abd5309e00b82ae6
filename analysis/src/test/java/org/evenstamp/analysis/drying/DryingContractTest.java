package org.evenstamp.analysis.drying;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class DryingContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new DryingProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(DryingProvider.TIME.id(), DryingProvider.LEFT.id(), DryingProvider.INDEX.id());
    }
}
