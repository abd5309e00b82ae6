package org.evenstamp.geometry.layout;

import org.jspecify.annotations.Nullable;

/**
 * The properties a drawn feature carries beside its shape. Equal traits are one object within a source where it can be
 * done cheaply.
 *
 * @param depthMetres the feature's own cavity depth, positive; null for the stamp's
 * @param role what it stands for; null for what the job says of all
 * @param repeat array of copies; null for one
 * @param texture pattern that fills it; null for none
 * @param region the region that it is part of; null unless its role is {@link Role#REGION}
 */
public record Traits(
        @Nullable Double depthMetres,
        @Nullable Role role,
        @Nullable Repeat repeat,
        @Nullable Texture texture,
        @Nullable RegionLabel region) {
    /** A feature without properties. */
    public static final Traits NONE = new Traits(null, null, null, null);

    /** Checks that a region, and nothing else, has a name. */
    public Traits {
        if ((role == Role.REGION) != (region != null)) {
            throw new IllegalArgumentException("a region has a label, and nothing else has one");
        }
    }

    /** A feature that is no region. */
    public Traits(
            @Nullable Double depthMetres, @Nullable Role role, @Nullable Repeat repeat, @Nullable Texture texture) {
        this(depthMetres, role, repeat, texture, null);
    }
}
