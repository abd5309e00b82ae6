package org.evenstamp.geometry.layout;

import org.jspecify.annotations.Nullable;

/**
 * Which region of the stamp a polygon of the role {@code region} belongs to. Polygons of one name are one region.
 *
 * @param name the region's name, not blank
 * @param weight how much it counts beside other regions, zero or more; null where nothing is said
 */
public record RegionLabel(String name, @Nullable Double weight) {
    /** Checks name and weight. */
    public RegionLabel {
        if (name.isBlank() || (weight != null && !(weight >= 0 && Double.isFinite(weight)))) {
            throw new IllegalArgumentException("a region needs a name and a weight of zero or more");
        }
    }
}
