package org.evenstamp.geometry.layout;

import java.util.List;
import java.util.function.Supplier;
import org.evenstamp.shared.progress.Progress;

/** A layout that can be gone through as often as needed. */
public interface PolygonSource {
    /**
     * Hands every polygon to one of the sinks.
     *
     * <p>Which worker gets which polygon, and in which order, may differ from call to call; chunk and ordinal of a polygon
     * do not, and neither does the set of polygons.
     *
     * @param sink makes the sink of one worker; called once a worker
     * @param threads how many workers, at least 1
     * @param stage what the progress stage is called
     * @param progress where bytes or polygons are counted, and where the wish to stop arrives
     * @return the sinks that were made
     * @throws org.evenstamp.shared.problem.InputException when the layout cannot be read
     */
    <S extends PolygonSink> List<S> forEach(Supplier<S> sink, int threads, String stage, Progress progress);
}
