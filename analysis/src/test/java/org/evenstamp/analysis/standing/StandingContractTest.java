package org.evenstamp.analysis.standing;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class StandingContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new StandingProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(StandingProvider.PAIRING.id(), StandingProvider.BUCKLING.id(), StandingProvider.SAG.id());
    }
}
