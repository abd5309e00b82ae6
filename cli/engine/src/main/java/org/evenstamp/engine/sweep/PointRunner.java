package org.evenstamp.engine.sweep;

import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** Computes points of a sweep, here or elsewhere. What a point finds does not depend on who computes it. */
public interface PointRunner extends AutoCloseable {
    /**
     * Computes the points that a store has not and adds them to it; a point that cannot be computed is added with its reason.
     *
     * @param from first of the points
     * @param to end of the points
     * @param stage counts every point, also one that is there already
     * @throws org.evenstamp.shared.progress.CancelledException soon after the progress was cancelled; the points that have ended
     *     are in the store
     */
    void run(int from, int to, SweepStore store, Stage stage, Progress progress);

    @Override
    void close();
}
