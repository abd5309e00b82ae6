package org.evenstamp.analysis.stress;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class FrozenStressContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new FrozenStressProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                FrozenStressProvider.RATE.id(),
                FrozenStressProvider.FROZEN.id(),
                FrozenStressProvider.THERMAL.id(),
                FrozenStressProvider.INDEX.id());
    }
}
