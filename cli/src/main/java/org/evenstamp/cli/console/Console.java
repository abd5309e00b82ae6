package org.evenstamp.cli.console;

import java.io.PrintWriter;

/**
 * Where the tool speaks to a person.
 *
 * @param out for what was asked for
 * @param err for progress and problems
 * @param colour whether {@code out} takes colours
 * @param live whether {@code err} is a terminal, where a line can be overwritten
 */
public record Console(PrintWriter out, PrintWriter err, boolean colour, boolean live) {
    /** The few looks a text may have. */
    public enum Look {
        /** A heading. */
        STRONG("1"),
        /** Something that is well. */
        GOOD("32"),
        /** Something that is not. */
        BAD("31"),
        /** Something to read with care. */
        CARE("33");

        private final String code;

        Look(String code) {
            this.code = code;
        }
    }

    /** Returns a text in a look, or as it is where there are no colours. */
    public String in(Look look, String text) {
        return colour ? "\u001b[" + look.code + "m" + text + "\u001b[0m" : text;
    }
}
