package org.evenstamp.engine.sweep;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicInteger;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/** Computes points on threads of this process, several at a time, each on one thread. */
final class PointThreads implements PointRunner {
    private static final long LOOK_MILLIS = 100;

    private final PointRun run;
    private final int threads;
    private final ExecutorService workers;
    private final Progress inner = new Progress();

    PointThreads(SweepPlan plan, int threads) {
        this.run = new PointRun(plan);
        this.threads = threads;
        this.workers = Executors.newFixedThreadPool(threads, task -> {
            Thread thread = new Thread(task, "sweep");
            thread.setDaemon(true);
            return thread;
        });
    }

    @Override
    public void run(int from, int to, SweepStore store, Stage stage, Progress progress) {
        AtomicInteger next = new AtomicInteger(from);
        List<Future<?>> running = new ArrayList<>();
        for (int i = 0; i < threads; i++) {
            running.add(workers.submit(() -> work(next, to, store, stage)));
        }
        for (Future<?> one : running) {
            await(one, progress);
        }
    }

    private static void await(Future<?> worker, Progress progress) {
        while (true) {
            try {
                worker.get(LOOK_MILLIS, TimeUnit.MILLISECONDS);
                return;
            } catch (TimeoutException e) {
                progress.checkCancelled(); // the workers hear of it when the caller ends
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new CancelledException();
            } catch (ExecutionException e) {
                if (e.getCause() instanceof RuntimeException failure) {
                    throw failure;
                }
                throw new IllegalStateException(e.getCause());
            }
        }
    }

    private void work(AtomicInteger next, int to, SweepStore store, Stage stage) {
        for (int index = next.getAndIncrement(); index < to; index = next.getAndIncrement()) {
            inner.checkCancelled();
            if (!store.has(index)) {
                PointRun.Found found = run.of(index, inner);
                store.add(found.point(), found.kept());
            }
            inner.forgetClosed();
            stage.advance(1);
        }
    }

    @Override
    public void close() {
        inner.cancel();
        workers.shutdownNow();
    }
}
