package org.evenstamp.analysis.numeric;

/**
 * Decides whether a team shares the same loops, run again and again, or its first member does them alone: whichever was
 * sooner when both were tried. Tries again now and then, since compiled code and the machine's other work change.
 *
 * <p>What a loop writes does not depend on who runs it, so the choice shows in the time taken alone.
 */
final class SharingTrial {
    private static final int PERIOD = 512; // runs from one trial to the next
    private static final int EACH = 4; // runs of either way in a trial: the quickest of them counts
    private static final double WORTH =
            0.8; // share of the time alone that sharing must not exceed: it takes other cores

    private final ThreadTeam team;
    private int turn;
    private long alone;
    private long shared;

    SharingTrial(ThreadTeam team) {
        this.team = team;
    }

    /** Runs the loops the better way, in which the team goes on until the next run, or tries a way. */
    void run(Runnable loops) {
        if (team.size() == 1) {
            loops.run();
            return;
        }
        if (turn == 0) {
            alone = Long.MAX_VALUE;
            shared = Long.MAX_VALUE;
        }
        if (turn >= 2 * EACH) {
            team.goAlone(shared > WORTH * alone);
            loops.run();
        } else {
            boolean tryAlone = turn % 2 == 0;
            team.goAlone(tryAlone);
            long start = System.nanoTime();
            loops.run();
            long took = System.nanoTime() - start;
            if (tryAlone) {
                alone = Math.min(alone, took);
            } else {
                shared = Math.min(shared, took);
            }
        }
        turn = (turn + 1) % PERIOD;
    }
}
