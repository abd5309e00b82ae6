package org.evenstamp.shared.problem;

/**
 * Where something stands that the user wrote.
 *
 * @param file the file as the user names it, or what else it is in or about, such as the command line, a plug-in or a material;
 *     empty when it stands nowhere
 * @param line from 1; 0 when it is not known or there is none
 * @param column from 1; 0 when it is not known or there is none
 */
public record Source(String file, long line, long column) {
    /** Nowhere. */
    public static final Source NOWHERE = new Source("", 0, 0);

    /** Returns the whole of a file, or what has no lines. */
    public static Source of(String file) {
        return new Source(file, 0, 0);
    }

    /** Returns whether it is no place at all. */
    public boolean isNowhere() {
        return file.isEmpty();
    }

    /** Returns it as compilers write places: {@code file:line:column}, without what is not known. */
    @Override
    public String toString() {
        return file + (line == 0 ? "" : ":" + line) + (line == 0 || column == 0 ? "" : ":" + column);
    }
}
