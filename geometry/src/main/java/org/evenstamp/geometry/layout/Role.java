package org.evenstamp.geometry.layout;

/** What a drawn polygon stands for. */
public enum Role {
    /** Recessed part of the stamp. */
    CAVITY,
    /** Raised part of the stamp. */
    PROTRUSION,
    /** Region where no dummy feature may stand; leaves the relief as it is. */
    KEEPOUT,
    /** A dummy feature, drawn like the layout's other features. */
    DUMMY
}
