package org.evenstamp.analysis.imprint;

import java.util.Comparator;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;

/**
 * The time after which film has met the roofs of all but a thousandth of the cavities' volume. Unlike that of the last tile it
 * hangs on no single tile.
 */
public final class MostFilled {
    private static final double MOST = 0.999;

    private MostFilled() {}

    /**
     * Returns it, s; empty if film has met less, or there is no cavity.
     *
     * @param tiles number of tiles
     * @param volume cavity volume over area of a tile, m
     * @param fillTime of a tile, s; no finite number where film has not met its roofs
     */
    public static OptionalDouble seconds(int tiles, IntToDoubleFunction volume, IntToDoubleFunction fillTime) {
        double wanted = MOST * IntStream.range(0, tiles).mapToDouble(volume).sum();
        int[] inOrder = IntStream.range(0, tiles)
                .filter(i -> volume.applyAsDouble(i) > 0 && Double.isFinite(fillTime.applyAsDouble(i)))
                .boxed()
                .sorted(Comparator.comparingDouble(fillTime::applyAsDouble))
                .mapToInt(Integer::intValue)
                .toArray();
        double met = 0;
        for (int i : inOrder) {
            met += volume.applyAsDouble(i);
            if (met >= wanted) {
                return OptionalDouble.of(fillTime.applyAsDouble(i));
            }
        }
        return OptionalDouble.empty();
    }
}
