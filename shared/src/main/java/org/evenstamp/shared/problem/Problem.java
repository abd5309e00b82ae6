package org.evenstamp.shared.problem;

/**
 * Something the user can mend.
 *
 * @param code catalogued short name, dotted lower-case words, such as {@code job.unknown-key}
 * @param place where: file, line and column, a key, a feature; empty when it has none
 * @param message what is wrong, with the number and its unit
 * @param fix what to do about it; empty when the message says it
 */
public record Problem(String code, String place, String message, String fix) {

    /** Returns the problem on one line, as a console shows it. */
    public String line() {
        return (place.isEmpty() ? "" : place + ": ") + message + (fix.isEmpty() ? "" : " (" + fix + ")");
    }
}
