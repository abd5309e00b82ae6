package org.evenstamp.cluster;

/** A worker failed by a defect of ours; doing the same again would fail again. The text of the failure is in its message. */
final class WorkerDefect extends RuntimeException {
    private static final String MARK = "evenstamp-defect: ";
    private static final int DEEPEST = 30;

    WorkerDefect(Throwable cause) {
        super(MARK + cause, cause);
    }

    /** Finds the text of a defect in what a job failed with; empty when there is none. */
    static String in(Throwable failure) {
        Throwable cause = failure;
        for (int depth = 0; cause != null && depth < DEEPEST; depth++) {
            String text = String.valueOf(cause.getMessage());
            int at = text.indexOf(MARK);
            if (at >= 0) {
                return text.substring(at + MARK.length());
            }
            cause = cause.getCause();
        }
        return "";
    }
}
