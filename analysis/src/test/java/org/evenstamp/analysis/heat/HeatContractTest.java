package org.evenstamp.analysis.heat;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class HeatContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new HeatProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(HeatProvider.SHIFT.id(), HeatProvider.RATIO.id());
    }
}
