package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Texture.Kind;
import org.evenstamp.geometry.layout.Texture.Lattice;
import org.evenstamp.geometry.layout.Traits;

/** What features of a sample carry, in micrometres. */
final class Patterns {
    /** In metres. */
    static final double MICROMETRE = 1e-6;

    private Patterns() {}

    /** Returns a depth, um. */
    static Traits depth(double micrometres) {
        return new Traits(micrometres * MICROMETRE, null, null, null);
    }

    /** Returns an array with this step, um. */
    static Traits array(int columns, int rows, double step) {
        return new Traits(null, null, new Repeat(columns, rows, step * MICROMETRE, step * MICROMETRE), null);
    }

    /** Returns a texture of this pitch and width, um. */
    static Traits texture(Kind kind, double pitch, double width, double degrees, Lattice lattice) {
        return new Traits(null, null, null, pattern(kind, pitch, width, degrees, lattice));
    }

    /** Returns the pattern of a texture, um. */
    static Texture pattern(Kind kind, double pitch, double width, double degrees, Lattice lattice) {
        return new Texture(kind, pitch * MICROMETRE, width * MICROMETRE, Math.toRadians(degrees), lattice);
    }

    /** Returns a texture of lines, um. */
    static Traits lines(double pitch, double width, double degrees) {
        return texture(Kind.LINES, pitch, width, degrees, Lattice.SQUARE);
    }
}
