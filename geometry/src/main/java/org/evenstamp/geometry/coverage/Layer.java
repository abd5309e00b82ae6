package org.evenstamp.geometry.coverage;

import java.util.Comparator;
import java.util.Objects;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.jspecify.annotations.Nullable;

/**
 * What a polygon adds to: all polygons of one layer are alike but for their shape.
 *
 * @param kind what the polygons are
 * @param depthMetres depth of the cavities; 0 for land
 * @param texture the pattern that fills the polygons; null for none
 * @param role what the features stand for; null for stretches of edge
 */
public record Layer(
        Kind kind,
        double depthMetres,
        @Nullable Texture texture,
        @Nullable Role role) {
    /** What the polygons of a layer are. */
    public enum Kind {
        /** Recessed as a whole. */
        CAVITY,
        /** Raised as a whole. */
        LAND,
        /** Filled with a pattern of cavities and land. */
        TEXTURED,
        /**
         * Not polygons but stretches of edge where a cavity of this depth borders on a deeper one: each was counted as a
         * wall of both.
         */
        SEAM,
        /**
         * Not polygons but stretches of edge where features of two roles touch that are alike else: there is no wall, but
         * each was counted with one of this height.
         */
        JOINT
    }

    /** A fixed order, so that sums over layers are the same in every run. */
    public static final Comparator<Layer> ORDER = Comparator.comparing(Layer::kind)
            .thenComparingDouble(Layer::depthMetres)
            .thenComparing(Layer::texture, Comparator.nullsFirst(Texture.ORDER))
            .thenComparing(Layer::role, Comparator.nullsFirst(Comparator.naturalOrder()));

    /** Returns whether both are the same relief, whatever the features stand for. */
    public boolean sameRelief(Layer other) {
        return kind == other.kind && depthMetres == other.depthMetres && Objects.equals(texture, other.texture);
    }

    /** Returns whether its members are stretches of edge, which cover nothing. */
    public boolean isEdges() {
        return kind == Kind.SEAM || kind == Kind.JOINT;
    }
}
