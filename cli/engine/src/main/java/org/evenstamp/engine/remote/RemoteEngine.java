package org.evenstamp.engine.remote;

import java.nio.file.Path;
import java.util.Map;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.sweep.PointRunner;
import org.evenstamp.engine.sweep.SweepPlan;
import org.evenstamp.shared.progress.Progress;

/**
 * Spreads work over machines. Named in {@code META-INF/services}.
 *
 * <p>What it computes is what this process would compute, to the last bit. Every method throws {@link
 * org.evenstamp.shared.problem.InputException} when the engine or the store cannot be used.
 */
public interface RemoteEngine {
    /** Returns what stands in front of {@code ://} in the addresses that it understands. */
    String scheme();

    /** Returns the version of evenstamp that it was built with. */
    String version();

    /**
     * Gets ready to compute points of a sweep.
     *
     * @param identity tells the sweep from others in the same store
     */
    PointRunner points(RemotePlace place, SweepPlan plan, String identity, Progress progress);

    /**
     * Measures a layout.
     *
     * @param layout the layout file
     * @param options how, by keys of a job, as {@link org.evenstamp.engine.job.Job#ofLayout} takes them
     */
    Results.MeasuredLayout measure(RemotePlace place, Path layout, Map<String, String> options, Progress progress);
}
