package org.evenstamp.geometry.coverage;

import java.util.Comparator;
import org.evenstamp.geometry.layout.Texture;
import org.jspecify.annotations.Nullable;

/**
 * What a polygon adds to: all polygons of one layer are alike but for their shape.
 *
 * @param kind what the polygons are
 * @param depthMetres depth of the cavities; 0 for land
 * @param texture the pattern that fills the polygons; null for none
 */
public record Layer(Kind kind, double depthMetres, @Nullable Texture texture) {
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
        SEAM
    }

    /** A fixed order, so that sums over layers are the same in every run. */
    public static final Comparator<Layer> ORDER = Comparator.comparing(Layer::kind)
            .thenComparingDouble(Layer::depthMetres)
            .thenComparing(Layer::texture, Comparator.nullsFirst(Texture.ORDER));
}
