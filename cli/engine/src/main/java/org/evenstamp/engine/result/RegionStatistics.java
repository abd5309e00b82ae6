package org.evenstamp.engine.result;

import java.util.List;
import java.util.Optional;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.unit.Unit;

/**
 * A field over one region of the stamp. Every tile counts as much as the region fills of it. Numbers in the field's display
 * unit.
 *
 * @param region the region
 * @param areaSquareMetres its area
 * @param tiles number of tiles that have a value and some of it
 * @param min smallest value
 * @param mean mean over the area
 * @param max largest value
 * @param sigma3 three standard deviations over the area
 */
public record RegionStatistics(
        Region region, double areaSquareMetres, int tiles, double min, double mean, double max, double sigma3) {
    private static final double SOME = 1e-9; // less is rounding of the map

    /** Goes through the regions; those without any tile are left out. */
    public static List<RegionStatistics> of(Field field, List<Region> regions) {
        return regions.stream().flatMap(region -> of(field, region).stream()).toList();
    }

    /** Goes through one region; nothing where it has no tile with a value. */
    public static Optional<RegionStatistics> of(Field field, Region region) {
        Unit unit = field.name().unit();
        int tiles = 0;
        double min = Double.POSITIVE_INFINITY;
        double max = Double.NEGATIVE_INFINITY;
        double weight = 0;
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < field.grid().size(); i++) {
            double share = region.share(i);
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
        return Optional.of(new RegionStatistics(
                region,
                region.tiles() * field.grid().tileAreaSquareMetres(),
                tiles,
                min,
                Math.min(max, Math.max(min, mean)),
                max,
                3 * Math.sqrt(Math.max(0, squares / weight))));
    }
}
