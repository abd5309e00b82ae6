package org.evenstamp.geometry.tile;

import org.evenstamp.geometry.layout.Role;
import org.jspecify.annotations.Nullable;

/**
 * What is said of a region beside the layout: the weight of one that is drawn there, or one that is described by a rule.
 *
 * @param name the region
 * @param weight how much it counts, zero or more; null where nothing is said
 * @param where what belongs to it; null for a region that is drawn
 */
public record RegionRule(
        String name, @Nullable Double weight, @Nullable Where where) {
    /**
     * What belongs to a region: all that fits every member that is not null. At least one is not.
     *
     * @param role what features of this role cover, textures as a whole
     * @param depthMetres cavities of this depth
     * @param box what lies in a rectangle
     */
    public record Where(@Nullable Role role, @Nullable Double depthMetres, MapOptions.@Nullable Outline box) {}
}
