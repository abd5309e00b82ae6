package org.evenstamp.geometry.read;

/** Says to a person what is wrong with a property. */
class PropertyException extends RuntimeException {
    private static final long serialVersionUID = 1;

    PropertyException(String message) {
        super(message, null, false, false);
    }

    /** Says that the word for a role is none: nobody knows then what the feature is. */
    static final class Role extends PropertyException {
        private static final long serialVersionUID = 1;

        Role(String message) {
            super(message);
        }
    }
}
