package org.evenstamp.analysis.nip;

import java.util.Set;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.kit.AnalysisContract;

class NipContractTest extends AnalysisContract {
    @Override
    protected AnalysisProvider provider() {
        return new NipProvider();
    }

    /** What a roller needs of a melt. */
    @Override
    protected void adjustTo(String choice, String word, Parameters.Builder parameters) {
        if (word.equals("roller")) {
            parameters
                    .quantity("film.glass-temperature", 373)
                    .quantity("film.viscosity", 1e4)
                    .quantity("film.wlf-c1", 17.44)
                    .quantity("film.wlf-c2", 51.6)
                    .quantity("film.wlf-reference", 373)
                    .quantity("film.valid-from", 373)
                    .quantity("film.valid-to", 473)
                    .quantity("film.decomposition-temperature", 600)
                    .quantity("process.temperature", 423)
                    .quantity("release.temperature", 330)
                    .quantity("process.roller-diameter", 0.2)
                    .quantity("process.cover-modulus", 2e7)
                    .quantity("process.line-force", 1e4)
                    .quantity("process.cool-time", 0.5);
        }
    }

    @Override
    protected Set<String> fieldsWithGaps() {
        return Set.of(NipProvider.FILLED.id(), NipProvider.SPRING_BACK.id(), NipProvider.LEVELLING.id());
    }
}
