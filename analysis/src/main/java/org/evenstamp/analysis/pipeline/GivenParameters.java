package org.evenstamp.analysis.pipeline;

import java.util.List;
import org.evenstamp.shared.spi.Parameters;

/** What a job gives one analysis. */
public sealed interface GivenParameters {
    /**
     * Enough: every required value is there, every value is in its range, defaults are set.
     *
     * @param parameters the values
     */
    record Complete(Parameters parameters) implements GivenParameters {}

    /**
     * Too little for this analysis, which is then skipped.
     *
     * @param ids the required parameters that the job lacks, at least one
     */
    record Lacking(List<String> ids) implements GivenParameters {
        /** Copies the list. */
        public Lacking {
            ids = List.copyOf(ids);
            if (ids.isEmpty()) {
                throw new IllegalArgumentException("a job that lacks nothing is complete");
            }
        }
    }
}
