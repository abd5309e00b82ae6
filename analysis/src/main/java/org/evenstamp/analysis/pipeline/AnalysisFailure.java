package org.evenstamp.analysis.pipeline;

import org.jspecify.annotations.Nullable;

/**
 * An analysis has a bug: it threw something that is not for the user to mend, or delivered other than it declared.
 * The user's input is not to blame; whoever wrote the analysis wants to know.
 */
public final class AnalysisFailure extends RuntimeException {
    private final String analysisId;
    private final boolean plugIn;

    AnalysisFailure(FoundAnalysis analysis, String what) {
        this(analysis, what, null);
    }

    AnalysisFailure(FoundAnalysis analysis, Throwable cause) {
        this(analysis, "failed: " + told(cause), cause);
    }

    private AnalysisFailure(FoundAnalysis analysis, String what, @Nullable Throwable cause) {
        super("the analysis " + analysis.identity() + " " + what, cause);
        this.analysisId = analysis.id();
        this.plugIn = analysis.plugIn();
    }

    /** What a stranger's exception says of itself, which may fail too. */
    private static String told(Throwable cause) {
        try {
            return String.valueOf(cause);
        } catch (RuntimeException | Error e) {
            return cause.getClass().getName();
        }
    }

    /** Returns the id of the analysis at fault. */
    public String analysisId() {
        return analysisId;
    }

    /** Returns whether a jar of a plug-in directory brought the analysis. */
    public boolean plugIn() {
        return plugIn;
    }
}
