package org.evenstamp.analysis.release;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class ReleaseContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new ReleaseProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                ReleaseProvider.FRICTION.id(),
                ReleaseProvider.ADHESION.id(),
                ReleaseProvider.BENDING.id(),
                ReleaseProvider.EXPOSURE.id(),
                ReleaseProvider.TEAR.id());
    }
}
