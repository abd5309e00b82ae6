package org.evenstamp.engine.result;

import java.util.List;
import java.util.Optional;
import org.evenstamp.geometry.tile.Region;
import org.evenstamp.shared.field.Field;

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
    /** Goes through the regions; those without any tile are left out. */
    public static List<RegionStatistics> of(Field field, List<Region> regions) {
        return regions.stream().flatMap(region -> of(field, region).stream()).toList();
    }

    /** Goes through one region; nothing where it has no tile with a value. */
    public static Optional<RegionStatistics> of(Field field, Region region) {
        return AreaStatistics.of(field, region::share)
                .map(one -> new RegionStatistics(
                        region,
                        region.tiles() * field.grid().tileAreaSquareMetres(),
                        one.tiles(),
                        one.min(),
                        one.mean(),
                        one.max(),
                        one.sigma3()));
    }
}
