package org.evenstamp.shared.unit;

/** Text that is not a quantity or not a unit; the message says what is wrong and belongs to the user. */
public final class UnitException extends RuntimeException {
    /** Creates it with a message for the user. */
    public UnitException(String message) {
        super(message);
    }
}
