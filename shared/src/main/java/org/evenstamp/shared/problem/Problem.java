package org.evenstamp.shared.problem;

/**
 * Something the user can mend, as a value; turning it into text for a console or a program is somebody else's job.
 *
 * @param code catalogued short name, dotted lower-case words, such as {@code job.unknown-key}
 * @param source where it stands. Who does not know the file says what it is about instead, such as a key of the job, and
 *     whoever reads the job puts in the place of that key.
 * @param key key of the job, {@code section.key}; empty when it is about none, or nobody has placed it yet
 * @param message what is wrong, with the number and its unit
 * @param fix what to do about it; empty when the message says it
 */
public record Problem(String code, Source source, String key, String message, String fix) {
    /** Makes a problem that is not about a place in a file. */
    public Problem(String code, String about, String message, String fix) {
        this(code, Source.of(about), "", message, fix);
    }

    /** Returns where it stands, as text; empty when it stands nowhere. */
    public String place() {
        return source.toString();
    }

    /** Returns the problem on one line, as a console shows it. */
    public String line() {
        return (source.isNowhere() ? "" : source + ": ") + message + (fix.isEmpty() ? "" : " (" + fix + ")");
    }
}
