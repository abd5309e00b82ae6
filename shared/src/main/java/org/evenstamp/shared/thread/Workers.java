package org.evenstamp.shared.thread;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletionService;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorCompletionService;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;

/**
 * Runs the same work on several threads, waits for all of them and listens meanwhile: the way to share work that takes more
 * than some milliseconds.
 *
 * <p>The wish to stop ends the waiting within a second even when the work does not listen, as a call of a library does not: the
 * threads are then left behind, as daemons, and what they come to is lost.
 */
public final class Workers {
    private static final String NAME = "evenstamp-worker";
    private static final long LISTEN_MILLISECONDS = 50;
    /** How long work that was asked to stop may take before it is left behind. */
    private static final long GRACE_MILLISECONDS = 500;

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
        return run(threads, new Progress(), work);
    }

    /**
     * Runs {@code work} {@code threads} times at once, never on the calling thread, which waits and listens to {@code progress}
     * and to interrupts.
     *
     * @return what each of them returned
     * @throws RuntimeException the first failure, after all others have been interrupted
     * @throws CancelledException when asked to stop; an interrupted thread stays interrupted, and {@code progress} is cancelled
     */
    public static <T> List<T> run(int threads, Progress progress, Callable<T> work) {
        return run(NAME, threads, progress, work);
    }

    /** Does the same on threads of this name. */
    public static <T> List<T> run(String name, int threads, Progress progress, Callable<T> work) {
        List<Thread> started = Collections.synchronizedList(new ArrayList<>());
        ExecutorService pool = Executors.newFixedThreadPool(Math.max(1, threads), task -> {
            Thread thread = new Thread(task, name);
            thread.setDaemon(true);
            started.add(thread);
            return thread;
        });
        try {
            CompletionService<T> ended = new ExecutorCompletionService<>(pool);
            List<Future<T>> futures = new ArrayList<>();
            for (int i = 0; i < Math.max(1, threads); i++) {
                futures.add(ended.submit(work));
            }
            for (int i = 0; i < futures.size(); i++) {
                await(ended, progress).get();
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
            progress.cancel();
            end(pool, started);
            Thread.currentThread().interrupt();
            throw new CancelledException();
        } finally {
            end(pool, started);
        }
    }

    /** Returns the next that ends, while it listens. */
    private static <T> Future<T> await(CompletionService<T> ended, Progress progress) throws InterruptedException {
        Future<T> next = ended.poll(LISTEN_MILLISECONDS, TimeUnit.MILLISECONDS);
        while (next == null) {
            progress.checkCancelled();
            next = ended.poll(LISTEN_MILLISECONDS, TimeUnit.MILLISECONDS);
        }
        return next;
    }

    /** Interrupts the threads and waits until they have ended, but no longer than the grace. */
    private static void end(ExecutorService pool, List<Thread> started) {
        pool.shutdownNow();
        long patience = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(GRACE_MILLISECONDS);
        boolean interrupted = false;
        for (Thread thread : List.copyOf(started)) {
            while (thread.isAlive() && System.nanoTime() < patience) {
                try {
                    thread.join(LISTEN_MILLISECONDS);
                } catch (InterruptedException e) {
                    interrupted = true;
                }
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /**
     * Does the same with each item, several at a time.
     *
     * @param threads number of threads, at least 1
     * @throws RuntimeException the first failure
     */
    public static <T> void forEach(List<T> items, int threads, Consumer<? super T> work) {
        AtomicInteger next = new AtomicInteger();
        run(Math.min(threads, items.size()), () -> {
            for (int i = next.getAndIncrement(); i < items.size(); i = next.getAndIncrement()) {
                work.accept(items.get(i));
            }
            return true;
        });
    }

    /**
     * Makes something of each item, several at a time.
     *
     * @param threads number of threads, at least 1
     * @return what came of each, in the order of the items
     * @throws RuntimeException the first failure
     */
    public static <T, R> List<R> map(List<T> items, int threads, Function<? super T, ? extends R> work) {
        Map<Integer, R> results = new ConcurrentSkipListMap<>();
        List<Integer> numbers = IntStream.range(0, items.size()).boxed().toList();
        forEach(numbers, threads, i -> results.put(i, work.apply(items.get(i))));
        return List.copyOf(results.values());
    }
}
