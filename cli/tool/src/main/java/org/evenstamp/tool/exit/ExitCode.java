package org.evenstamp.tool.exit;

/** What the process tells the script that started it. */
public final class ExitCode {
    /** Done, and every limit of the job is kept. */
    public static final int WITHIN_LIMITS = 0;
    /** Done, and at least one limit of the job is exceeded. */
    public static final int LIMIT_EXCEEDED = 1;
    /** Done, and the two runs that were compared are not the same. */
    public static final int DIFFERENT = 1;
    /** The command line is wrong. */
    public static final int WRONG_USAGE = 2;
    /** The job, the layout, a plug-in or the place for the results is not usable. */
    public static final int YOUR_INPUT = 3;
    /** A defect of the tool. */
    public static final int OUR_BUG = 4;
    /** Stopped by the user: 128 plus the number of the interrupt signal, as shells count. */
    public static final int CANCELLED = 130;

    private ExitCode() {}
}
