package org.evenstamp.engine.run;

/**
 * How a job is computed; no number of the results depends on it.
 *
 * @param threads number of threads, at least 1
 * @param sketching whether the layout's polygons are kept for drawing
 * @param hashing whether the files that go in are hashed, for the record
 */
public record RunOptions(int threads, boolean sketching, boolean hashing) {
    /** All processors, nothing to draw, the files hashed. */
    public static final RunOptions STANDARD =
            new RunOptions(Runtime.getRuntime().availableProcessors(), false, true);

    /** Checks the number of threads. */
    public RunOptions {
        if (threads < 1) {
            throw new IllegalArgumentException("at least one thread is needed, not " + threads);
        }
    }

    /** Returns these options with another number of threads. */
    public RunOptions withThreads(int number) {
        return new RunOptions(number, sketching, hashing);
    }

    /** Returns these options with or without polygons to draw. */
    public RunOptions withSketch(boolean wanted) {
        return new RunOptions(threads, wanted, hashing);
    }

    /** Returns these options with or without the hashes of the files that go in. */
    public RunOptions withHashes(boolean wanted) {
        return new RunOptions(threads, sketching, wanted);
    }
}
