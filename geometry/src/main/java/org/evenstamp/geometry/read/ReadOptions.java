package org.evenstamp.geometry.read;

import org.jspecify.annotations.Nullable;

/**
 * How a layout file is to be understood.
 *
 * @param format the format; null to find it from the content
 * @param metresPerUnit length of one unit of the coordinates in metres, positive; null to take it from the member
 *     {@code units} of a GeoJSON document
 * @param badFeatures what becomes of features whose shape or properties cannot be right
 */
public record ReadOptions(
        @Nullable LayoutFormat format, @Nullable Double metresPerUnit, Policy badFeatures) {

    /** What becomes of a bad feature. Either way it is counted and its place is kept. */
    public enum Policy {
        /** It is left out. */
        SKIP,
        /** It is mended where the shape allows it, and left out otherwise. */
        REPAIR
    }

    /** Checks the unit. */
    public ReadOptions {
        if (metresPerUnit != null && !(metresPerUnit > 0 && Double.isFinite(metresPerUnit))) {
            throw new IllegalArgumentException("the unit must have a positive length, was " + metresPerUnit + " m");
        }
    }
}
