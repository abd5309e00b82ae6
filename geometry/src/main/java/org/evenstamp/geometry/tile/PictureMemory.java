package org.evenstamp.geometry.tile;

import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.evenstamp.geometry.measure.PictureMeasures;

/**
 * Remembers what pictures of a map measured, so that one that comes again, as an array's or that of a field of dummies, is not
 * solved again. The same picture gives the same measures, so nothing depends on which thread drew it first. Safe for several
 * threads.
 *
 * <p>Pictures are told apart by their SHA-256. Tiles that look alike differ in the last digits, by where on the stamp they lie;
 * {@link #rounded} shares are equal.
 */
final class PictureMemory {
    /** Steps of a share of land: hundred thousand times finer than what a cell tells of an edge, and far above rounding. */
    private static final double STEPS = 1 << 20;

    /** Pictures that are kept: about 30 MB of them. */
    private static final int MOST = 200_000;

    private final Map<ByteBuffer, PictureMeasures> known = new ConcurrentHashMap<>();

    /** Returns a share of land as pictures hold it. */
    static double rounded(double share) {
        return Math.rint(share * STEPS) / STEPS;
    }

    /**
     * Returns what a picture measures.
     *
     * @param land rounded shares of land
     * @param core cells along its core; below zero for a sample of as many
     * @param measure measures it
     */
    PictureMeasures of(double[] land, int core, Supplier<PictureMeasures> measure) {
        ByteBuffer shares = ByteBuffer.allocate(Integer.BYTES * (land.length + 1));
        shares.putInt(core);
        for (double share : land) {
            shares.putInt((int) Math.rint(share * STEPS));
        }
        ByteBuffer name = ByteBuffer.wrap(sha256().digest(shares.array()));
        PictureMeasures before = known.get(name);
        if (before != null) {
            return before;
        }
        PictureMeasures measures = measure.get();
        if (known.size() < MOST) {
            known.put(name, measures);
        }
        return measures;
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
