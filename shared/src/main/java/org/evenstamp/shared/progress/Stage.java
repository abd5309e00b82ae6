package org.evenstamp.shared.progress;

import java.util.concurrent.atomic.LongAdder;

/** One stretch of work as a counter. Closing it says that it is done. Safe for several threads. */
public final class Stage implements AutoCloseable {
    private final Progress progress;
    private final String name;
    private final long total;
    private final String unit;
    private final LongAdder done = new LongAdder();
    private final long opened;
    private volatile long ended;
    private volatile boolean closed;

    Stage(Progress progress, String name, long total, String unit) {
        this.progress = progress;
        this.name = name;
        this.total = total;
        this.unit = unit;
        this.opened = progress.nanos();
    }

    /**
     * Counts work done.
     *
     * @throws CancelledException when the run was asked to stop
     */
    public void advance(long amount) {
        done.add(amount);
        progress.checkCancelled();
    }

    /** Returns the name for a person. */
    public String name() {
        return name;
    }

    /** Returns how much there is to do, 0 when not known. */
    public long total() {
        return total;
    }

    /** Returns what is counted. */
    public String unit() {
        return unit;
    }

    /** Returns how much is done. */
    public long done() {
        return done.sum();
    }

    /** Returns whether the stage is over. */
    public boolean closed() {
        return closed;
    }

    /** Returns how long it is or was open, s. */
    public double seconds() {
        return ((closed ? ended : progress.nanos()) - opened) * 1e-9;
    }

    @Override
    public void close() {
        if (!closed) {
            ended = progress.nanos();
            closed = true;
        }
    }
}
