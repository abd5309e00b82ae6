package org.evenstamp.analysis.material;

import java.util.Locale;

/** How well a number is known. */
public enum Provenance {
    /** Read in the source named beside it. */
    READ,
    /** Computed from other numbers as the source column says. */
    DERIVED,
    /** Recalled, not read: a soft default. */
    FROM_MEMORY,
    /** A custom of the trade, without a source. */
    COMMON_PRACTICE,
    /** Measured by the user. */
    MEASURED;

    /** Returns the words used in files and lists, such as {@code from memory}. */
    public String words() {
        return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
}
