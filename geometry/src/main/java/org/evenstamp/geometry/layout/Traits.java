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
 */
public record Traits(
        @Nullable Double depthMetres,
        @Nullable Role role,
        @Nullable Repeat repeat,
        @Nullable Texture texture) {
    /** A feature without properties. */
    public static final Traits NONE = new Traits(null, null, null, null);
}
