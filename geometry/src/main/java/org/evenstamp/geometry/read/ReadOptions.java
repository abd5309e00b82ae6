package org.evenstamp.geometry.read;

import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.jspecify.annotations.Nullable;

/**
 * How a layout file is to be understood.
 *
 * @param format the format; null to find it from the content
 * @param metresPerUnit length of one unit of the coordinates in metres, positive; null to take it from the member
 *     {@code units} of a GeoJSON document
 * @param badFeatures what becomes of features whose shape or properties cannot be right
 * @param assigned what is said of all features of the file
 */
public record ReadOptions(
        @Nullable LayoutFormat format, @Nullable Double metresPerUnit, Policy badFeatures, Assigned assigned) {

    /** Reads a file of whose features nothing is said but by themselves. */
    public ReadOptions(@Nullable LayoutFormat format, @Nullable Double metresPerUnit, Policy badFeatures) {
        this(format, metresPerUnit, badFeatures, Assigned.NOTHING);
    }

    /**
     * What is said of all features of a file. Where a feature says something itself, that counts.
     *
     * @param role what they stand for; null where nothing is said
     * @param depthMetres depth of the cavities, positive; null for the stamp's
     * @param depthScale factor on the depths that features give themselves, positive
     * @param regionName name of the regions among them; null where each has its own
     * @param regionWeight weight of these; null where nothing is said
     * @param pose how the drawing lies on the stamp
     */
    public record Assigned(
            @Nullable Role role,
            @Nullable Double depthMetres,
            double depthScale,
            @Nullable String regionName,
            @Nullable Double regionWeight,
            Pose pose) {
        /** Nothing. */
        public static final Assigned NOTHING = new Assigned(null, null, 1, null, null, Pose.AS_DRAWN);

        /** Checks the depths. */
        public Assigned {
            if (!(depthScale > 0) || (depthMetres != null && !(depthMetres > 0))) {
                throw new IllegalArgumentException("depths and their scale must be positive");
            }
        }

        @Nullable
        Double depth(@Nullable Double own) {
            return own == null ? depthMetres : Double.valueOf(depthScale == 1 ? own : own * depthScale);
        }

        @Nullable
        Repeat repeat(@Nullable Repeat own) {
            return pose.equals(Pose.AS_DRAWN) ? own : pose.apply(own);
        }

        @Nullable
        Texture texture(@Nullable Texture own) {
            return pose.equals(Pose.AS_DRAWN) ? own : pose.apply(own);
        }
    }

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
