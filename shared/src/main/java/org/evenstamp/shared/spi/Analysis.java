package org.evenstamp.shared.spi;

/** Reads fields and answers with fields. Called once, from one thread, which may not be the one that made it. */
@FunctionalInterface
public interface Analysis {
    /**
     * Computes the declared fields. Long work opens stages on the context's progress and lets itself be interrupted there.
     * The same context gives the same bits.
     */
    AnalysisResult run(AnalysisContext context);
}
