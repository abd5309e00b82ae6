package org.evenstamp.shared.progress;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongSupplier;

/**
 * The stages of one run, for whoever watches, and the wish to stop, for whoever works. Safe for several threads.
 *
 * <p>The worker opens stages and raises their counters; it never prints and never asks for the time. The watcher samples
 * {@link #stages()} as often as it likes. Each stage knows how long it was open, which no result depends on.
 */
public final class Progress {
    private final List<Stage> stages = new CopyOnWriteArrayList<>();
    private final LongSupplier nanoClock;
    private volatile boolean cancelled;

    /** Begins without a stage. */
    public Progress() {
        this(System::nanoTime);
    }

    /**
     * Begins without a stage.
     *
     * @param nanoClock a clock in nanoseconds from any start that never runs back
     */
    public Progress(LongSupplier nanoClock) {
        this.nanoClock = nanoClock;
    }

    /**
     * Opens a stage.
     *
     * @param name a few words for a person
     * @param total how much there is to do, 0 when not known
     * @param unit what is counted, such as {@code bytes}
     */
    public Stage stage(String name, long total, String unit) {
        checkCancelled();
        Stage stage = new Stage(this, name, total, unit);
        stages.add(stage);
        return stage;
    }

    /** Returns the stages opened so far, oldest first. */
    public List<Stage> stages() {
        return List.copyOf(stages);
    }

    /** Forgets the stages that are over, for work that begins again and again. */
    public void forgetClosed() {
        stages.removeIf(Stage::closed);
    }

    /** Returns the time now by the clock of this run, ns. */
    public long nanos() {
        return nanoClock.getAsLong();
    }

    /** Asks the work to stop soon. */
    public void cancel() {
        cancelled = true;
    }

    /** Returns whether the work was asked to stop. */
    public boolean cancelled() {
        return cancelled;
    }

    /**
     * Returns normally unless the work was asked to stop.
     *
     * @throws CancelledException when it was
     */
    public void checkCancelled() {
        if (cancelled) {
            throw new CancelledException();
        }
    }
}
