package org.evenstamp.shared.progress;

/** The run was asked to stop and did. */
public final class CancelledException extends RuntimeException {
    /** Creates it. */
    public CancelledException() {
        super("cancelled");
    }
}
