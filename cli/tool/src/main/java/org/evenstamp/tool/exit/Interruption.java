package org.evenstamp.tool.exit;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.evenstamp.shared.progress.Progress;

/**
 * What happens when the user interrupts the process: the work is asked to stop, gets a few seconds for it, and what it has
 * begun to write is removed in any case. The Java runtime then ends the process with {@link ExitCode#CANCELLED}.
 */
public final class Interruption {
    private static final long GRACE_SECONDS = 5;

    private final Progress progress;
    private final CountDownLatch finished = new CountDownLatch(1);
    private volatile Runnable cleanup = () -> {};

    /** Creates one for a run; nothing is watched yet. */
    public Interruption(Progress progress) {
        this.progress = progress;
    }

    /** Begins to watch for the end of the process. */
    public void watch() {
        Runtime.getRuntime().addShutdownHook(new Thread(this::stop, "interruption"));
    }

    /** Says how to remove what is half written. */
    public void cleanUpWith(Runnable action) {
        cleanup = action;
    }

    /** Says that the run is over and has told its end; nothing is left to stop. */
    public void finished() {
        finished.countDown();
    }

    private void stop() {
        if (finished.getCount() == 0) {
            return;
        }
        progress.cancel();
        try {
            if (!finished.await(GRACE_SECONDS, TimeUnit.SECONDS)) {
                cleanup.run();
            }
        } catch (InterruptedException e) {
            cleanup.run();
            Thread.currentThread().interrupt();
        }
    }
}
