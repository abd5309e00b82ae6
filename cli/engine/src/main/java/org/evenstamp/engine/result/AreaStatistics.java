package org.evenstamp.engine.result;

import java.util.Optional;
import java.util.PrimitiveIterator;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.evenstamp.geometry.tile.Die;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.unit.Unit;

/**
 * A field over an area, of which every tile holds a share. Every tile counts as much as that. Numbers in the field's display
 * unit.
 *
 * @param tiles number of tiles that have a value and some of the area
 * @param min smallest value
 * @param mean mean over the area
 * @param max largest value
 * @param sigma3 three standard deviations over the area
 */
public record AreaStatistics(int tiles, double min, double mean, double max, double sigma3) {
    private static final double SOME = 1e-9; // less is rounding of the map

    /** Goes through a region with a name; nothing where it has no tile with a value. */
    public static Optional<AreaStatistics> of(Field field, NamedRegion region) {
        return of(field, region::share);
    }

    /** Goes through the part of a stamp that a die covers; nothing where it has no tile with a value. */
    public static Optional<AreaStatistics> of(Field field, Die die, MapOptions.Outline stamp) {
        return of(field, IntStream.of(die.tiles(field.grid())), tile -> die.shareOf(field.grid(), tile, stamp));
    }

    /** Goes through the tiles; nothing where none of them has a value and some of the area. */
    public static Optional<AreaStatistics> of(Field field, IntToDoubleFunction shareOfTile) {
        return of(field, IntStream.range(0, field.grid().size()), shareOfTile);
    }

    private static Optional<AreaStatistics> of(Field field, IntStream some, IntToDoubleFunction shareOfTile) {
        Unit unit = field.name().unit();
        int tiles = 0;
        double min = Double.POSITIVE_INFINITY;
        double max = Double.NEGATIVE_INFINITY;
        double weight = 0;
        double mean = 0;
        double squares = 0;
        PrimitiveIterator.OfInt these = some.iterator();
        while (these.hasNext()) {
            int i = these.nextInt();
            double share = shareOfTile.applyAsDouble(i);
            if (share > SOME && field.known(i)) {
                double value = unit.fromSi(field.at(i));
                tiles++;
                min = Math.min(min, value);
                max = Math.max(max, value);
                // Welford's recurrence with weights: no cancellation when the spread is small beside the mean.
                weight += share;
                double step = value - mean;
                mean += step * share / weight;
                squares += share * step * (value - mean);
            }
        }
        if (tiles == 0) {
            return Optional.empty();
        }
        return Optional.of(new AreaStatistics(
                tiles, min, Math.min(max, Math.max(min, mean)), max, 3 * Math.sqrt(Math.max(0, squares / weight))));
    }
}
