package org.evenstamp.analysis.pipeline;

/**
 * An analysis has a bug: it threw an exception that is not for the user to mend, or delivered other than it declared.
 * The user's input is not to blame; whoever wrote the analysis wants to know.
 */
public final class AnalysisFailure extends RuntimeException {
    private final String analysisId;

    AnalysisFailure(FoundAnalysis analysis, String what) {
        super("the analysis " + analysis.identity() + " " + what);
        this.analysisId = analysis.id();
    }

    AnalysisFailure(FoundAnalysis analysis, Throwable cause) {
        super("the analysis " + analysis.identity() + " failed: " + cause, cause);
        this.analysisId = analysis.id();
    }

    /** Returns the id of the analysis at fault. */
    public String analysisId() {
        return analysisId;
    }
}
