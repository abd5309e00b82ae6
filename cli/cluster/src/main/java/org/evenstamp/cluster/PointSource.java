package org.evenstamp.cluster;

import java.util.List;
import org.apache.flink.api.connector.source.lib.NumberSequenceSource;

/** The numbers from 0 on, each handed out alone to whoever has nothing to do. */
final class PointSource extends NumberSequenceSource {
    PointSource(int count) {
        super(0, count - 1L);
    }

    @Override
    protected List<NumberSequenceSplit> splitNumberRange(long from, long to, int parts) {
        return super.splitNumberRange(from, to, (int) (to - from + 1));
    }
}
