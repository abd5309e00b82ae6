package org.evenstamp.analysis.etch;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class EtchContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new EtchProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                EtchProvider.CLEAR.id(),
                EtchProvider.LEFT.id(),
                EtchProvider.WIDTH.id(),
                EtchProvider.CD_LOSS.id(),
                EtchProvider.INDEX.id());
    }
}
