package org.evenstamp.tool.watch;

import java.nio.file.Path;
import java.util.Set;

/** Waits for files to change. */
@FunctionalInterface
public interface Changes {
    /**
     * Returns when a file may be another than at the return before, at once the first time. A change while nobody waits is not
     * missed.
     *
     * @param files the files, there or not
     * @throws org.evenstamp.shared.progress.CancelledException when asked to stop
     */
    void await(Set<Path> files);
}
