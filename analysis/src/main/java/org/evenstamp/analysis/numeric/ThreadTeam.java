package org.evenstamp.analysis.numeric;

import java.util.concurrent.locks.LockSupport;
import org.jspecify.annotations.Nullable;

/**
 * A few threads that share loops: each takes one contiguous stretch, the caller the first. The threads wait parked
 * between loops and end with {@link #close}. To be used by one caller at a time; running a loop allocates nothing.
 *
 * <p>A task must write each result from one index alone (no sum across a stretch), so that the result does not depend on
 * the number of members.
 */
public final class ThreadTeam implements AutoCloseable {
    private static final int SPINS = 2000;
    private static final long PAUSE_NANOS = 20_000;
    private static final int WORTH_SHARING = 40_000; // values: below, waiting for each other takes longer than working

    /** A loop body over a stretch of indices. */
    @FunctionalInterface
    public interface Task {
        /**
         * Works on the indices from {@code from} to {@code to - 1}.
         *
         * @param member number of the calling member, from 0, for the choice of scratch space
         */
        void run(int from, int to, int member);
    }

    private final int size;
    private final Member[] members;
    private boolean alone;

    /** Starts {@code size - 1} threads beside the caller's own. */
    public ThreadTeam(int size) {
        if (size < 1) {
            throw new IllegalArgumentException("a team has at least one member, was " + size);
        }
        this.size = size;
        members = new Member[size - 1];
        for (int m = 0; m < members.length; m++) {
            members[m] = new Member(m + 1);
            members[m].start();
        }
    }

    /** Starts a team for loops over this many values: of one member where sharing them would only cost time. */
    public static ThreadTeam forValues(int values, int threads) {
        return new ThreadTeam(isWorthSharing(values) ? Math.max(1, threads) : 1);
    }

    /** Returns whether loops over this many values are worth more than one thread. */
    public static boolean isWorthSharing(int values) {
        return values >= WORTH_SHARING;
    }

    /** Returns the number of members, the caller included. */
    public int size() {
        return size;
    }

    /** Lets the caller run all loops from now on, while the other members rest, or share them with them. */
    void goAlone(boolean callerAlone) {
        alone = callerAlone;
    }

    /** Runs the task over {@code 0 .. count - 1} and returns when all of it is done. */
    public void run(Task task, int count) {
        if (size == 1 || alone || count < size) {
            task.run(0, count, 0);
            return;
        }
        for (Member member : members) {
            member.begin(task, start(count, member.number), start(count, member.number + 1));
        }
        Throwable failure = null;
        try {
            task.run(0, start(count, 1), 0);
        } catch (RuntimeException | Error thrown) {
            failure = thrown;
        }
        for (Member member : members) {
            Throwable theirs = member.await();
            failure = failure == null ? theirs : failure;
        }
        if (failure instanceof Error error) {
            throw error;
        }
        if (failure instanceof RuntimeException exception) {
            throw exception;
        }
    }

    private int start(int count, int member) {
        return (int) ((long) count * member / size);
    }

    /** Ends the threads. */
    @Override
    public void close() {
        for (Member member : members) {
            member.end();
        }
    }

    private static final class Member extends Thread {
        private final int number;
        private @Nullable Task task;
        private int from;
        private int to;
        private @Nullable Throwable failure;
        private volatile int asked;
        private volatile int done;
        private volatile boolean ended;

        Member(int number) {
            super("evenstamp-team-" + number);
            this.number = number;
            setDaemon(true);
        }

        void begin(Task nextTask, int nextFrom, int nextTo) {
            task = nextTask;
            from = nextFrom;
            to = nextTo;
            failure = null;
            asked = done + 1; // publishes the fields above
            LockSupport.unpark(this);
        }

        @Nullable
        Throwable await() {
            int spins = 0;
            while (done != asked) {
                if (++spins < SPINS) {
                    Thread.onSpinWait();
                } else {
                    LockSupport.parkNanos(this, PAUSE_NANOS);
                }
            }
            task = null;
            return failure;
        }

        void end() {
            ended = true;
            LockSupport.unpark(this);
        }

        @Override
        public void run() {
            int spins = 0;
            while (!ended) {
                if (asked == done) {
                    if (++spins < SPINS) {
                        Thread.onSpinWait();
                    } else {
                        LockSupport.park(this);
                    }
                    continue;
                }
                spins = 0;
                Task current = task;
                try {
                    if (current != null) {
                        current.run(from, to, number);
                    }
                } catch (RuntimeException | Error thrown) {
                    failure = thrown;
                }
                done = asked; // publishes the results
            }
        }
    }
}
