package org.evenstamp.shared.spi;

import org.evenstamp.shared.field.Field;

/**
 * A field of a result as it would be had the process ended at this time.
 *
 * @param seconds time since the process began, finite
 * @param field the values, under the name of the field whose course this is
 */
public record Snapshot(double seconds, Field field) {
    /** Checks that the time is finite. */
    public Snapshot {
        if (!Double.isFinite(seconds)) {
            throw new IllegalArgumentException(
                    "the time of a snapshot of " + field.name().id() + " is not finite");
        }
    }
}
