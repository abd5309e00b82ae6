package org.evenstamp.geometry.layout;

import java.util.Comparator;

/**
 * A regular pattern too fine to draw, filling the region that the polygon outlines.
 *
 * @param kind lines, holes or pillars
 * @param pitchMetres distance from feature to feature
 * @param widthMetres width or diameter: of the cavity for lines and holes, of the protrusion for pillars
 * @param angleRadians direction of the lines, or of the lattice's first axis, from the x axis
 * @param lattice arrangement of holes and pillars
 */
public record Texture(Kind kind, double pitchMetres, double widthMetres, double angleRadians, Lattice lattice) {
    /** A fixed order, so that results over several textures do not depend on chance. */
    public static final Comparator<Texture> ORDER = Comparator.comparing(Texture::kind)
            .thenComparingDouble(Texture::pitchMetres)
            .thenComparingDouble(Texture::widthMetres)
            .thenComparingDouble(Texture::angleRadians)
            .thenComparing(Texture::lattice);

    /** What repeats. */
    public enum Kind {
        /** Parallel cavities. */
        LINES,
        /** Round cavities. */
        HOLES,
        /** Round protrusions. */
        PILLARS
    }

    /** How holes and pillars are arranged. */
    public enum Lattice {
        /** On a square lattice. */
        SQUARE,
        /** On a lattice of equilateral triangles. */
        HEXAGONAL
    }

    /** Checks the ranges. */
    public Texture {
        if (!(pitchMetres > 0)
                || !(widthMetres > 0)
                || !(widthMetres < pitchMetres)
                || Double.isInfinite(pitchMetres)
                || !Double.isFinite(angleRadians)) {
            throw new IllegalArgumentException(
                    "a texture needs 0 < width < pitch, was width " + widthMetres + " m, pitch " + pitchMetres + " m");
        }
    }
}
