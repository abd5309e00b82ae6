package org.evenstamp.analysis.feature;

import java.util.Set;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class FeatureContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new FeatureProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                ImprintFields.FEATURE_HEIGHT.id(),
                ImprintFields.FEATURE_HEIGHT_MIN.id(),
                ImprintFields.FEATURE_HEIGHT_MAX.id());
    }
}
