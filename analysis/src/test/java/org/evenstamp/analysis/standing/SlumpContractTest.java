package org.evenstamp.analysis.standing;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class SlumpContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new SlumpProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(SlumpProvider.LOSS.id(), SlumpProvider.INDEX.id());
    }
}
