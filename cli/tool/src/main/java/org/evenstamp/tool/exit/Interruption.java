package org.evenstamp.tool.exit;

import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.evenstamp.shared.progress.Progress;

/**
 * What happens when the user interrupts the process: the work is asked to stop, gets a few seconds for it, and what it has
 * begun to write is removed in any case. The Java runtime then ends the process with {@link ExitCode#CANCELLED}.
 *
 * <p>A plug-in that ends the process by itself is told, and the exit code is {@link ExitCode#YOUR_INPUT} whatever it wanted.
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

    /** Begins to watch for the end of the process; {@code err} is told when it is a plug-in that ends it. */
    public void watch(PrintWriter err) {
        Runtime.getRuntime()
                .addShutdownHook(new Thread(
                        () -> {
                            Optional<StackTraceElement> whoExits =
                                    finished.getCount() == 0 ? Optional.empty() : whoExits();
                            if (whoExits.isPresent()) {
                                cleanup.run();
                                err.println("error: a plug-in ended the program before its time: "
                                        + place(whoExits.get()) + "; nothing was written");
                                err.flush();
                                Runtime.getRuntime().halt(ExitCode.YOUR_INPUT);
                            }
                            stop();
                        },
                        "interruption"));
    }

    private static String place(StackTraceElement caller) {
        return caller.getClassName() + "." + caller.getMethodName() + " in line " + caller.getLineNumber();
    }

    /** Returns who called for the end of the process; nobody when a signal did. */
    private static Optional<StackTraceElement> whoExits() {
        for (StackTraceElement[] stack : Thread.getAllStackTraces().values()) {
            for (int i = 0; i + 1 < stack.length; i++) {
                boolean exits = stack[i].getClassName().equals("java.lang.Runtime")
                        && stack[i].getMethodName().equals("exit");
                if (exits) {
                    boolean bySystem = stack[i + 1].getClassName().equals("java.lang.System") && i + 2 < stack.length;
                    return Optional.of(stack[bySystem ? i + 2 : i + 1]);
                }
            }
        }
        return Optional.empty();
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
