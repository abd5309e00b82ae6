package org.evenstamp.tool.console;

import java.io.PrintWriter;
import org.evenstamp.output.text.TextStyle;

/**
 * Where the tool speaks to a person.
 *
 * @param out for what was asked for
 * @param err for progress and problems
 * @param colour whether {@code out} takes colours
 * @param live whether {@code err} is a terminal, where a line can be overwritten
 */
public record Console(PrintWriter out, PrintWriter err, boolean colour, boolean live) {
    /** Returns a text in a style, or as it is where there are no colours. */
    public String in(TextStyle style, String text) {
        return style.on(text, colour);
    }
}
