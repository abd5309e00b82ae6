package org.evenstamp.analysis.cure;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class CureContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new CureProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(CureProvider.CONVERSION.id(), CureProvider.GEL_TIME.id(), CureProvider.SHRINKAGE.id());
    }
}
