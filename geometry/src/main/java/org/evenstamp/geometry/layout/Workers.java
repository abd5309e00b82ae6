package org.evenstamp.geometry.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/** Runs the same work on several threads and waits for all of them. */
public final class Workers {
    private Workers() {}

    /**
     * Runs {@code work} {@code threads} times at once; on the calling thread when one is enough. The work itself shares
     * out what there is to do.
     *
     * @return what each of them returned
     * @throws RuntimeException the first failure, after all others have been interrupted and have ended
     */
    public static <T> List<T> run(int threads, Callable<T> work) {
        if (threads <= 1) {
            try {
                return List.of(work.call());
            } catch (RuntimeException e) {
                throw e;
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        }
        ExecutorService pool = Executors.newFixedThreadPool(threads);
        try {
            List<Future<T>> futures = new ArrayList<>();
            for (int i = 0; i < threads; i++) {
                futures.add(pool.submit(work));
            }
            List<T> results = new ArrayList<>();
            for (Future<T> future : futures) {
                results.add(future.get());
            }
            return results;
        } catch (ExecutionException e) {
            Throwable cause = e.getCause();
            if (cause instanceof RuntimeException runtime) {
                throw runtime;
            }
            if (cause instanceof Error error) {
                throw error;
            }
            throw new IllegalStateException(cause);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new org.evenstamp.shared.progress.CancelledException();
        } finally {
            pool.shutdownNow();
        }
    }
}
