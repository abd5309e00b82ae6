package org.evenstamp.analysis.stamp;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class StampSafetyContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new StampSafetyProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(StampSafetyProvider.CONTACT.id(), StampSafetyProvider.PARTICLE.id());
    }
}
