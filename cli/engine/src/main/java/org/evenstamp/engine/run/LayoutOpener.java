package org.evenstamp.engine.run;

import java.util.function.Supplier;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.geometry.layout.PolygonSource;

/** Opens a layout file. */
@FunctionalInterface
public interface LayoutOpener {
    /**
     * An open layout.
     *
     * @param source its polygons
     * @param count what became of its features, once they were gone through
     */
    record Opened(PolygonSource source, Supplier<Results.ReadCount> count) {}

    /**
     * Opens it.
     *
     * @throws org.evenstamp.shared.problem.InputException when it is not a layout that can be read
     */
    Opened open(Job.LayoutChoice layout);
}
