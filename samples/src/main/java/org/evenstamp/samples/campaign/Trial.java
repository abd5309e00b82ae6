package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.nio.file.Path;
import java.util.SplittableRandom;
import org.evenstamp.shared.progress.Progress;

/** One kind of input. */
interface Trial {
    /** How an input ended. */
    enum End {
        /** It was taken. */
        TAKEN,
        /** It was taken, and its area was compared with that of another way and was right. */
        TAKEN_AND_COMPARED,
        /** It was refused with a message. */
        REFUSED,
        /** Something happened that must not. */
        FOUND
    }

    /**
     * What became of an input.
     *
     * @param end how it ended
     * @param what what was found; empty when nothing was
     */
    record Verdict(End end, String what) {
        static Verdict of(End end) {
            return new Verdict(end, "");
        }

        static Verdict found(String what) {
            return new Verdict(End.FOUND, what);
        }
    }

    /**
     * Makes an input, writes it into a directory of its own and tries it.
     *
     * @param random where all of it comes from
     * @param directory empty; left as it is when something is found
     * @param progress stops it
     */
    Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException;
}
