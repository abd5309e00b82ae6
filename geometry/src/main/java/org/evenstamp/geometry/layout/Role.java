package org.evenstamp.geometry.layout;

import java.util.Locale;

/** What a drawn polygon stands for. */
public enum Role {
    /** Recessed part of the stamp. */
    CAVITY,
    /** Raised part of the stamp. */
    PROTRUSION,
    /** Region where no dummy feature may stand; leaves the relief as it is. */
    KEEPOUT,
    /** A dummy feature, drawn like the layout's other features. */
    DUMMY,
    /** Part of the stamp that matters by name; leaves the relief as it is. */
    REGION;

    /** Returns whether what is drawn changes the relief of the stamp. */
    public boolean inRelief() {
        return this != KEEPOUT && this != REGION;
    }

    /** Returns the word for it in a layout. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
