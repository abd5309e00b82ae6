package org.evenstamp.shared.spi;

import org.evenstamp.shared.field.FieldName;

/**
 * What would help where a field is bad.
 *
 * @param field the field
 * @param help what to change, a few words for a person without a full stop, what helps most first
 */
public record Remedy(FieldName field, String help) {
    /** Checks that there is a text. */
    public Remedy {
        if (help.isBlank()) {
            throw new IllegalArgumentException("the remedy for " + field.id() + " is empty");
        }
    }
}
