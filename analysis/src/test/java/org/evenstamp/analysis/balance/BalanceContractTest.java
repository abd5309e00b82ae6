package org.evenstamp.analysis.balance;

import java.util.Set;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class BalanceContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new BalanceProvider();
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(
                BalanceFields.TRANSPORT_DISTANCE.id(),
                ImprintFields.FILL_TIME_FREE.id(),
                ImprintFields.FILL_SHARE_LOCAL.id(),
                BalanceFields.STARVED_SHARE.id());
    }
}
